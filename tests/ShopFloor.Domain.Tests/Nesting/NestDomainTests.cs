using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;

namespace ShopFloor.Domain.Tests.Nesting;

public sealed class NestDomainTests
{
    private static readonly NestRequest List = new(
        [new NestStock(6000, 2), new NestStock(1000)],
        [new NestPiece("hoop", 2900, 2), new NestPiece("bar", 900.5m, 2), new NestPiece("brace", 900.5m, 1)],
        KerfMm: 3,
        EndTrimMm: 10
    );

    private static NestAnswer Good => NestGreedy.Answer(NestProblem.Create(List).Value)!;

    [Fact]
    public void Nest_that_holds_is_let_through_and_each_seeded_error_is_caught()
    {
        var good = Good;
        Assert.Empty(NestCheck.Faults(List, good));
        var bars = good.Bars.ToList();
        void Caught(string words, params NestBar[] changed) =>
            Assert.Contains(
                NestCheck.Faults(List, good with { Bars = changed }),
                f => f.Contains(words, StringComparison.Ordinal)
            );
        NestBar Change(NestBar bar, IReadOnlyList<NestCut> cuts) =>
            bar with
            {
                Cuts = cuts,
                RemnantMm = Math.Max(0, bar.StockLengthMm - 10 - cuts.Sum(c => c.LengthMm) - (3 * cuts.Count)),
            };
        Caught("needed 2 times and cut 1", [Change(bars[0], [.. bars[0].Cuts.Skip(1)]), .. bars.Skip(1)]);
        Caught("and cut 4 times", [.. bars, bars[0]]);
        Caught("too short", [Change(bars[0], [.. bars[0].Cuts, .. bars[0].Cuts]), .. bars.Skip(1)]);
        Caught("wrong remnant", [bars[0] with { RemnantMm = bars[0].RemnantMm + 0.0001m }, .. bars.Skip(1)]);
        Caught(
            "no stock of 6001",
            [bars[0] with { StockLengthMm = 6001, RemnantMm = bars[0].RemnantMm + 1 }, .. bars.Skip(1)]
        );
        Caught("has no pieces", [.. bars, new NestBar(1000, [], 990)]);
        Caught("not so many bars", [.. bars, bars[0], bars[0]]);
        Caught(
            "is needed 0 times",
            [Change(bars[0], [new NestCut("else", 20), .. bars[0].Cuts.Skip(1)]), .. bars.Skip(1)]
        );
        Assert.NotEmpty(NestCheck.Faults(List, good with { LowerBoundStockMm = good.StockUsedMm + 1 }));
        Assert.NotEmpty(NestCheck.Faults(List, good with { LowerBoundBars = good.BarsUsed + 1 }));
        Assert.NotEmpty(NestCheck.Faults(List, good with { LowerBoundStockMm = 1, IsProvenOptimal = true }));
    }

    /// <summary>pieces + kerf × (pieces − 1) ≤ stock − trim, at its edge to the fourth decimal.</summary>
    [Theory]
    [InlineData(100.0, 2.0, 1.0, 1)]
    [InlineData(99.9999, 2.0, 1.0, 2)]
    [InlineData(97.0, 0.0, 0.0, 1)]
    public void Kerf_and_trim_count_as_the_contract_says(double stock, double kerf, double trim, int bars)
    {
        var request = new NestRequest(
            [new NestStock((decimal)stock)],
            [new NestPiece("p", 48.5m, 2)],
            (decimal)kerf,
            (decimal)trim
        );
        Assert.Equal(bars, NestGreedy.Answer(NestProblem.Create(request).Value)!.BarsUsed);
    }

    [Fact]
    public void Nest_as_text_comes_back_only_for_its_own_list()
    {
        var text = NestText.Write(List, Good);
        var back = NestText.Read(List, text)!;
        Assert.Equal(Good.Bars.Select(Said), back.Bars.Select(Said));
        Assert.Equal((Good.LowerBoundStockMm, Good.LowerBoundBars), (back.LowerBoundStockMm, back.LowerBoundBars));
        Assert.Null(NestText.Read(List with { KerfMm = 3.1m }, text));
        Assert.Null(NestText.Read(List with { Stock = [.. List.Stock, new NestStock(900, 1)] }, text));
        Assert.Null(NestText.Read(List with { Pieces = [.. List.Pieces.Skip(1)] }, text));
        foreach (
            var wrong in new[]
            {
                "",
                "nest1",
                "x",
                text[..^2],
                text + "\n1x1000: 9",
                text + "\n99999999x1000: 1",
                text.Replace(": ", "; ", StringComparison.Ordinal),
            }
        )
        {
            Assert.Null(NestText.Read(List, wrong));
        }

        static string Said(NestBar b) => $"{b.StockLengthMm} {string.Join('+', b.Cuts)} {b.RemnantMm}";
    }

    public static TheoryData<NestRequest, string> Wrong =>
        new()
        {
            { List with { Stock = [] }, "stock" },
            { List with { Stock = [new NestStock(0)] }, "stock[0].lengthMm" },
            { List with { Stock = [new NestStock(6000, -1)] }, "stock[0].quantity" },
            { List with { KerfMm = -1 }, "kerfMm" },
            { List with { EndTrimMm = 10.00001m }, "endTrimMm" },
            { List with { Pieces = [new NestPiece("p", 100.00001m, 1)] }, "pieces[0].lengthMm" },
            { List with { Pieces = [new NestPiece("p", 100, 0)] }, "pieces[0].quantity" },
            { List with { Pieces = [new NestPiece("", 100, 1)] }, "pieces[0].label" },
            { List with { Pieces = [new NestPiece("p", 100, 10_001)] }, "pieces" },
            { List with { Pieces = [new NestPiece("p", 5990.0001m, 1)] }, "pieces[0].lengthMm" },
            {
                List with
                {
                    Stock = [new NestStock(6000, 1), new NestStock(9000, 0)],
                    Pieces = [new NestPiece("p", 7000, 1)],
                },
                "pieces[0].lengthMm"
            },
            { List with { Stock = [new NestStock(6000, 1)] }, "stock" },
        };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void Bad_input_is_said_at_its_field(NestRequest request, string path) =>
        Assert.Equal(path, Assert.IsType<Failure.Invalid>(NestProblem.Create(request).Failure).Errors[0].Path);
}
