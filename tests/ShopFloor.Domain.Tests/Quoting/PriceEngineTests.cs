using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class PriceEngineTests
{
    [Fact]
    public void Hours_are_content_times_standard_times_factor()
    {
        // Expected: 4 m × 30 min = 2 h; plate (30 + 4 × 60 + 120)/6 = 65 min; 1200 mm × 0.1 min = 2 h.
        var plain = TestBook.Price(TestBook.Input);
        Assert.Equal(2 + (65m / 60) + 2, plain.Hours.P50, 4);

        // Heavy rust doubles the seams and takes half as long again for the plate.
        var rusty = TestBook.Price(TestBook.With(("rust", "heavy")));
        Assert.Equal(4 + (1.5m * 65 / 60) + 2, rusty.Hours.P50, 4);
    }

    [Fact]
    public void Two_answers_that_touch_one_standard_multiply()
    {
        var priced = TestBook.Price(TestBook.With(("rust", "heavy"), ("filler", "none")));

        Assert.Equal(2 + (1.5m * 65 / 60) + 2, priced.Hours.P50, 4);
    }

    [Fact]
    public void Without_a_whole_car_spread_the_range_is_that_of_the_three_point_calculator()
    {
        var priced = TestBook.Price(TestBook.Input);
        var check = ThreePoint
            .Calculate([new(4 * 20 / 60.0, 4 * 30 / 60.0, 4 * 40 / 60.0), new(30 / 60.0, 1, 2), new(2, 2, 2)])
            .Value;

        Assert.Equal(check.P50Hours, (double)priced.Hours.P50, 1e-4);
        Assert.Equal(check.P80Hours, (double)priced.Hours.P80, 1e-4);
    }

    [Fact]
    public void Whole_car_spread_widens_the_range_and_leaves_the_mean()
    {
        var spread = PriceEngine.Price(TestBook.Book with { WholeCarSpread = 0.2m }, TestBook.Input).Value;
        var without = TestBook.Price(TestBook.Input);

        Assert.Equal(without.Hours.P50, spread.Hours.P50);
        var own = (double)(without.Hours.P80 - without.Hours.P50) / ThreePoint.Z80;
        var together = 0.2 * (double)without.Hours.P50;
        var expected = ThreePoint.Z80 * Math.Sqrt((own * own) + (together * together));
        Assert.Equal(expected, (double)(spread.Hours.P80 - spread.Hours.P50), 1e-3);
    }

    [Fact]
    public void Shop_that_prices_at_80_percent_charges_the_p80_hours()
    {
        var priced = PriceEngine
            .Price(TestBook.Book with { ConfidencePercent = 80, WholeCarSpread = 0.1m }, TestBook.Input)
            .Value;

        Assert.Equal(priced.Hours.P80, priced.Hours.Priced);
        var charged = priced.Lines.Where(l => l.Group == LineGroup.Labour).Sum(l => l.Quantity);
        Assert.InRange(charged - priced.Hours.P80, -0.02m, 0.02m);
    }

    [Fact]
    public void Lines_come_as_a_customer_reads_them_and_each_can_be_checked_by_hand()
    {
        var priced = TestBook.Price(TestBook.Input);

        Assert.Equal(
            [
                "Bar with door bars",
                "Left door bar: swing-out",
                "Right door bar: fixed",
                "Seam prep: fitting",
                "Plate fit: fitting",
                "Final weld: welding",
                "Wire and gas",
            ],
            priced.Lines.Select(l => l.Description)
        );
        Assert.All(
            priced.Lines,
            l => Assert.Equal(Money.Round(l.Quantity * l.UnitPriceMinor, MoneyRounding.HalfUp), l.NetMinor)
        );
        // 1000.00 + 90.00 + 0 + 2 h × 60 + 1.08 h × 60 + 2 h × 80 + 1.2 m × 7.00 = 1443.20
        Assert.Equal(144_320, priced.SubtotalMinor);
        Assert.Equal(14_432, priced.TaxMinor);
        Assert.Equal(158_752, priced.TotalMinor);
        Assert.Equal(47_626, priced.DepositMinor);
    }

    [Fact]
    public void Every_line_explains_itself_down_to_its_standard_and_condition_answer()
    {
        var line = TestBook
            .Price(TestBook.With(("rust", "light")))
            .Lines.Single(l => l.Code == "labour:SeamPrep:fitter");

        Assert.Equal("180.00 EUR", line.Explanation.Result);
        var work = Assert.Single(
            line.Explanation.Parts,
            p => p.Rule.StartsWith("Operation 50", StringComparison.Ordinal)
        );
        Assert.Contains(work.Inputs, i => i.Value == "4 m (Seam to bare metal)");
        Assert.Contains(work.Inputs, i => i is { Name: "Rust: light", Value: "× 1.5" });
        Assert.Contains("Price book 1 of 2026-05-04", work.Source, StringComparison.Ordinal);
        Assert.Equal("3 h expected (2 to 4 h)", work.Result);
    }

    [Fact]
    public void Operations_carry_their_expected_hours()
    {
        var operations = TestBook.Price(TestBook.Input).Operations;

        Assert.Equal([("50", 2m), ("70", 1.0833m), ("170", 2m)], operations.Select(o => (o.OperationCode, o.Hours)));
    }

    [Fact]
    public void Condition_brings_its_precautions()
    {
        Assert.Empty(TestBook.Price(TestBook.Input).Precautions);
        Assert.Equal(["Look before welding."], TestBook.Price(TestBook.With(("rust", "heavy"))).Precautions);
    }

    [Fact]
    public void Exempt_customer_is_charged_no_tax()
    {
        var priced = TestBook.Price(TestBook.Input with { IsTaxExempt = true });

        Assert.Equal(0, priced.TaxMinor);
        Assert.Equal(priced.SubtotalMinor, priced.TotalMinor);
    }

    [Theory]
    [MemberData(nameof(BadInputs))]
    public void What_the_book_does_not_know_is_named_at_its_field(string path, Func<PriceInput, PriceInput> spoil)
    {
        var failure = Assert.IsType<Failure.Invalid>(PriceEngine.Price(TestBook.Book, spoil(TestBook.Input)).Failure);

        Assert.Contains(failure.Errors, e => e.Path == path);
    }

    public static TheoryData<string, Func<PriceInput, PriceInput>> BadInputs() =>
        new()
        {
            { "kitCode", i => i with { Scope = i.Scope with { KitCode = "none" } } },
            { "useCode", i => i with { Scope = i.Scope with { UseCode = "none" } } },
            { "doors", i => i with { Scope = i.Scope with { Doors = [] } } },
            { "doors", i => i with { Scope = i.Scope with { KitCode = "bar-plain" } } },
            {
                "doors[1].door",
                i =>
                    i with
                    {
                        Scope = i.Scope with { Doors = [new(DoorSide.Left, "fixed"), new(DoorSide.Left, "fixed")] },
                    }
            },
            {
                "doors[0].hingeOptionCode",
                i => i with { Scope = i.Scope with { Doors = [new(DoorSide.Left, "none")] } }
            },
            {
                "condition.colour",
                i =>
                    i with
                    {
                        Scope = i.Scope with { Condition = new Dictionary<string, string> { ["colour"] = "red" } },
                    }
            },
            {
                "condition.rust",
                i =>
                    i with
                    {
                        Scope = i.Scope with { Condition = new Dictionary<string, string> { ["rust"] = "some" } },
                    }
            },
            { "kitCode", i => i with { Content = [new("10", "Unknown", Phase.Intake, "fitter", "no-standard", 1)] } },
            { "kitCode", i => i with { Content = [new("10", "Unknown", Phase.Intake, "magician", "seam-m", 1)] } },
            { "discountPercent", i => i with { Discount = new(101, null) } },
            { "tradeCreditMinor", i => i with { TradeCreditMinor = 100_000_000 } },
        };

    [Fact]
    public void Worse_condition_never_makes_a_car_cheaper() =>
        Gen.Int[100, 500]
            .Sample(percent =>
            {
                var factor = percent / 100m;
                var book = TestBook.Book with
                {
                    WholeCarSpread = 0.1m,
                    ConfidencePercent = 80,
                    Questions =
                    [
                        new(
                            "rust",
                            "Rust",
                            "none",
                            [new("none", "none", [], []), new("bad", "bad", [new("seam-m", factor)], [])]
                        ),
                    ],
                };
                var good = PriceEngine.Price(book, TestBook.Input).Value;
                var bad = PriceEngine.Price(book, TestBook.With(("rust", "bad"))).Value;
                Assert.True(bad.Hours.P80 >= good.Hours.P80);
                Assert.True(bad.TotalMinor >= good.TotalMinor);
            });

    [Fact]
    public void The_same_input_gives_the_same_price() =>
        Gen.Decimal[0.001m, 5000]
            .Select(q => decimal.Round(q, 3) + 0.001m)
            .Sample(quantity =>
            {
                var input = TestBook.Input with
                {
                    Content = [.. TestBook.Content, new("60", "More", Phase.SeamPrep, "fitter", "seam-m", quantity)],
                };
                var (a, b) = (TestBook.Price(input), TestBook.Price(input));
                Assert.Equal(a.TotalMinor, b.TotalMinor);
                Assert.Equal(a.Hours, b.Hours);
                Assert.Equal(
                    a.Lines.Select(l => (l.Code, l.Quantity, l.NetMinor)),
                    b.Lines.Select(l => (l.Code, l.Quantity, l.NetMinor))
                );
            });
}
