using CsCheck;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Tests.Fabrication;

public sealed class HingeCutTests
{
    [Fact]
    public void Usual_hinges_take_five_inches_out_of_a_bar()
    {
        // 2.5 in (63.5 mm) out of each end: common practice, no source.
        var cuts = HingeCut.Calculate([new("front", 30, 260, 45, 63.5, 5), new("rear", 25, 240, 45, 63.5, 5)]).Value;

        Assert.Equal(127, cuts.RemovedMm);
        Assert.Equal(
            (80, 146.5, 113.25, 176.75),
            (cuts.Ends[0].EarliestCutMm, cuts.Ends[0].LatestCutMm, cuts.Ends[0].FirstCutMm, cuts.Ends[0].SecondCutMm)
        );
    }

    [Fact]
    public void Cuts_agree_with_a_search_in_steps_of_a_tenth_of_a_millimetre() =>
        Gen.Select(
                Gen.Int[0, 600],
                Gen.Int[1, 3000],
                Gen.Int[1, 800],
                Gen.Int[1, 900],
                Gen.Int[0, 100],
                Gen.Enum<HingePlace>()
            )
            .Sample(
                (root, room, insert, body, clearance, place) =>
                {
                    var bend = root + room;
                    var cut = HingeCut
                        .Calculate([
                            new("end", root / 10.0, bend / 10.0, insert / 10.0, body / 10.0, clearance / 10.0, place),
                        ])
                        .Value.Ends[0];
                    // In tenths, every place of the first cut is tried: both inserts with their clearance must lie between joint and bend.
                    var fitting = Enumerable
                        .Range(root, room + 1)
                        .Where(first => first - insert - clearance >= root)
                        .Where(first => first + body + insert + clearance <= bend)
                        .ToList();

                    Assert.Equal(fitting.Count > 0, cut.IsPossible);
                    if (fitting.Count == 0)
                    {
                        Assert.Null(cut.FirstCutMm);
                        Assert.NotEmpty(cut.Reasons);
                        Assert.Equal(cut.EarliestCutMm - cut.LatestCutMm, cut.ShortfallMm, 1e-9);
                        return;
                    }

                    var expected = place switch
                    {
                        HingePlace.NearJoint => fitting[0],
                        HingePlace.NearBend => fitting[^1],
                        _ => (fitting[0] + fitting[^1]) / 2.0,
                    };
                    Assert.Equal(expected / 10, cut.FirstCutMm!.Value, 1e-6);
                    Assert.Equal(cut.FirstCutMm.Value + (body / 10.0), cut.SecondCutMm!.Value, 1e-9);
                },
                iter: 3_000
            );

    [Fact]
    public void Fit_to_the_last_digit_is_a_fit()
    {
        var cut = HingeCut.Calculate([new("end", 0.1, 0.1 + 0.2 + 0.3 + 0.2, 0.2, 0.3)]).Value.Ends[0];

        Assert.True(cut.IsPossible);
        Assert.Equal(0, cut.ShortfallMm);
    }

    [Fact]
    public void What_does_not_fit_says_what_to_move()
    {
        var cuts = HingeCut.Calculate([new("rear", 30, 150, 45, 63.5, 5)]).Value;

        Assert.False(cuts.Ends[0].IsPossible);
        Assert.Equal(0, cuts.RemovedMm);
        Assert.Equal(43.5, cuts.Ends[0].ShortfallMm, 1e-9);
        Assert.Contains(cuts.Ends[0].Reasons, r => r.Contains("another height", StringComparison.Ordinal));
        Assert.Contains(cuts.Ends[0].Reasons, r => r.Contains("21.8 mm shorter", StringComparison.Ordinal));
    }

    [Fact]
    public void Wrong_ends_are_said_at_their_fields()
    {
        var end = new HingeEnd("a", 30, 260, 45, 63.5);
        Workbench.AssertSaid("ends", HingeCut.Calculate([]));
        Workbench.AssertSaid("ends", HingeCut.Calculate([end, end with { Name = "b" }, end with { Name = "c" }]));
        Workbench.AssertSaid("ends[1].name", HingeCut.Calculate([end, end]));
        Workbench.AssertSaid("ends[0].name", HingeCut.Calculate([end with { Name = " " }]));
        Workbench.AssertSaid("ends[0].bendTangentMm", HingeCut.Calculate([end with { BendTangentMm = 30 }]));
        Workbench.AssertSaid("ends[0].insertLengthMm", HingeCut.Calculate([end with { InsertLengthMm = 0 }]));
        Workbench.AssertSaid("ends[0].bodyLengthMm", HingeCut.Calculate([end with { BodyLengthMm = double.NaN }]));
        Workbench.AssertSaid("ends[0].clearanceMm", HingeCut.Calculate([end with { ClearanceMm = -1 }]));
    }
}
