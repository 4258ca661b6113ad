using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class SignatureTests
{
    [Fact]
    public void A_drawn_and_a_printed_signature_are_both_taken()
    {
        Assert.Equal("Ada", Signature.Take(Drawn, "signature", At).Value.SignedBy);
        Assert.Empty(Signature.Take(OnPaper, "signature", At).Value.Strokes);
    }

    [Fact]
    public void Nobody_signs_without_a_name_and_a_way() =>
        Assert.Equal(
            ["signature.signedBy", "signature.kind"],
            PathsOf(Signature.Take(new SignatureDetails(null, ""), "signature", At))
        );

    [Fact]
    public void No_signature_at_all_is_named() =>
        Assert.Equal(["signature"], PathsOf(Signature.Take(null, "signature", At)));

    [Fact]
    public void An_empty_pad_is_no_signature()
    {
        Assert.Equal(["signature.strokes"], PathsOf(Signature.Take(Drawn with { Strokes = [] }, "signature", At)));
        Assert.Equal(
            ["signature.strokes"],
            PathsOf(
                Signature.Take(
                    Drawn with
                    {
                        Strokes =
                        [
                            [5, 5],
                        ],
                    },
                    "signature",
                    At
                )
            )
        );
    }

    [Theory]
    [InlineData(1001)]
    [InlineData(-1)]
    public void Points_off_the_pad_are_refused(int x) =>
        Assert.Equal(
            ["signature.strokes"],
            PathsOf(
                Signature.Take(
                    Drawn with
                    {
                        Strokes =
                        [
                            [0, 0, x, 0],
                        ],
                    },
                    "signature",
                    At
                )
            )
        );

    [Fact]
    public void Half_a_point_is_refused() =>
        Assert.Equal(
            ["signature.strokes"],
            PathsOf(
                Signature.Take(
                    Drawn with
                    {
                        Strokes =
                        [
                            [0, 0, 1, 1, 2],
                        ],
                    },
                    "signature",
                    At
                )
            )
        );

    [Fact]
    public void Five_thousand_points_are_taken_and_one_more_is_refused()
    {
        int[] most = [.. Enumerable.Repeat(500, Signature.MostPoints * 2)];

        Assert.True(Signature.Take(Drawn with { Strokes = [most] }, "signature", At).IsSuccess);
        Assert.False(
            Signature
                .Take(
                    Drawn with
                    {
                        Strokes =
                        [
                            [.. most, 1, 1],
                        ],
                    },
                    "signature",
                    At
                )
                .IsSuccess
        );
    }
}
