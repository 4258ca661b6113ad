using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Common;

public sealed class LengthTextTests
{
    /// <summary>1 in = 25.4 mm, the international inch of 1959.</summary>
    [Theory]
    [InlineData("44.45", LengthUnit.Millimetre, 44.45)]
    [InlineData("44,45", LengthUnit.Millimetre, 44.45)]
    [InlineData("0,125 in", LengthUnit.Millimetre, 3.175)]
    [InlineData("1,2500", LengthUnit.Millimetre, 1.25)]
    [InlineData("1250", LengthUnit.Millimetre, 1250)]
    [InlineData("1 3/4", LengthUnit.Inch, 44.45)]
    [InlineData("1 3/4 in", LengthUnit.Millimetre, 44.45)]
    [InlineData("1-3/4\"", LengthUnit.Millimetre, 44.45)]
    [InlineData("-1-1/2", LengthUnit.Inch, -38.1)]
    [InlineData("1.75\"", LengthUnit.Millimetre, 44.45)]
    [InlineData("5/8", LengthUnit.Inch, 15.875)]
    [InlineData("38 mm", LengthUnit.Inch, 38)]
    [InlineData("-1 1/2", LengthUnit.Inch, -38.1)]
    [InlineData("0", LengthUnit.Inch, 0)]
    [InlineData(".5in", LengthUnit.Millimetre, 12.7)]
    public void Tape_readings_are_read_as_people_write_them(string text, LengthUnit unit, double millimetres)
    {
        Assert.True(LengthText.TryReadMm(text, unit, out var read));
        Assert.Equal(millimetres, read, 9);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("mm")]
    [InlineData("1,250")]
    [InlineData("-1,250 mm")]
    [InlineData("12,345 in")]
    [InlineData("1,2,3")]
    [InlineData("NaN")]
    [InlineData("1e3")]
    [InlineData("1/0")]
    [InlineData("0/0")]
    [InlineData("1 5/4")]
    [InlineData("1.5 3/4")]
    [InlineData("1 2 3/4")]
    [InlineData("3/4/5")]
    [InlineData("1--3/4")]
    [InlineData("1-3")]
    [InlineData("/4")]
    [InlineData("12 feet")]
    [InlineData("11111111111111111111111111111111111111111")]
    public void What_is_no_length_is_refused(string? text) =>
        Assert.False(LengthText.TryReadMm(text, LengthUnit.Millimetre, out _));
}
