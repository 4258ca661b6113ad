using CsCheck;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Common;

public sealed class FractionalInchesTests
{
    /// <summary>1 in = 25.4 mm, the international inch of 1959.</summary>
    [Theory]
    [InlineData(1000, 16, "39 3/8 in", -0.125)]
    [InlineData(44.45, 16, "1 3/4 in", 0)]
    [InlineData(41.275, 32, "1 5/8 in", 0)]
    [InlineData(9.525, 16, "3/8 in", 0)]
    [InlineData(50.8, 16, "2 in", 0)]
    [InlineData(0, 16, "0 in", 0)]
    [InlineData(-38.1, 16, "-1 1/2 in", 0)]
    [InlineData(-0.1, 16, "0 in", -0.1)]
    [InlineData(25.3, 16, "1 in", -0.1)]
    [InlineData(10, 32, "13/32 in", -0.31875)]
    public void Tape_shows_the_nearest_division_and_what_it_leaves_out(
        double millimetres,
        int divisions,
        string shown,
        double remainderMm
    )
    {
        var tape = FractionalInches.Nearest(millimetres, divisions);

        Assert.Equal(shown, tape.ToString());
        Assert.Equal(remainderMm, tape.RemainderMm, 9);
    }

    [Fact]
    public void What_the_tape_shows_and_the_remainder_give_the_length_back() =>
        Gen.Select(Gen.Double[-100_000, 100_000], Gen.Int[1, 6].Select(i => 1 << i))
            .Sample(
                (millimetres, divisions) =>
                {
                    var tape = FractionalInches.Nearest(millimetres, divisions);
                    var size = (tape.Inches + ((double)tape.Numerator / tape.Denominator)) * Length.MillimetresPerInch;
                    var shown = tape.IsNegative ? -size : size;
                    Assert.Equal(millimetres, shown + tape.RemainderMm, 1e-8);
                    Assert.True(Math.Abs(tape.RemainderMm) <= (Length.MillimetresPerInch / divisions / 2) + 1e-8);
                    Assert.True(tape.Numerator == 0 || tape.Numerator % 2 == 1);
                }
            );

    [Theory]
    [InlineData(1, 10)]
    [InlineData(1, 0)]
    [InlineData(double.NaN, 16)]
    [InlineData(double.PositiveInfinity, 16)]
    public void What_no_tape_can_show_is_refused(double millimetres, int divisions) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => FractionalInches.Nearest(millimetres, divisions));
}
