using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

/// <summary>The kinds of sale and what is priced beside kit, doors and work.</summary>
public sealed class SaleTests
{
    private static readonly PriceBook Book = TestBook.Book with
    {
        Kits =
        [
            TestBook.Book.Kits[0] with
            {
                LabourPriceMinor = 20_000,
                LabourTaxCodes = ["t"],
                LabourCostMinor = 12_000,
                Parts =
                [
                    new("hoop", "Hoop", KitPartKind.Tube, 1, 9_000)
                    {
                        OutsideDiameterMm = 45,
                        WallMm = 2.5m,
                        LengthMm = 4_000,
                    },
                    new("plate", "Plate", KitPartKind.Plate, 2, 700)
                    {
                        LengthMm = 100,
                        WidthMm = 100,
                        ThicknessMm = 3,
                    },
                    new("bolts", "Bolts", KitPartKind.Hardware, 1, 500) { MassKg = 0.5m },
                ],
            },
            TestBook.Book.Kits[1],
        ],
        OutsideWork = [new("coat", "Powder coating", 24_000, 17_000, 5, ["t"])],
        Freight = new(
            "Carriage",
            [new("near", "near", [new(10, 2_000, 1_500), new(20, 3_000, 2_500)]), new("far", "far", [new(5, 9_000)])],
            ["t"]
        ),
        MarginTargetPercent = 30,
    };

    private static readonly JobScope Bench = TestBook.Scope with
    {
        Kind = SaleKind.Bench,
        KitCode = null,
        Doors = [],
        Bench = [new("welder", "weld-mm", 600)],
    };

    private static PricedQuote Price(PriceInput input) => PriceEngine.Price(Book, input).Value;

    private static PriceInput Shipped(string? zone) =>
        TestBook.Input with
        {
            Scope = TestBook.Scope with { Kind = SaleKind.Shipped },
            Content = [],
            Extras = PriceExtras.None with { FreightZoneCode = zone },
        };

    [Fact]
    public void Mass_of_a_tube_is_that_of_its_ring_of_steel()
    {
        // EN 10305-1 and other tube tables print 2.62 kg/m for 45 x 2.5 mm (from memory): (45 - 2.5) x 2.5 x 0.02466 = 2.620.
        Assert.Equal(2.62m, decimal.Round(Book.Kits[0].Parts[0].UnitMassKg / 4, 2));
        // 4 m of tube, two plates of 0.2355 kg, half a kilogram of bolts.
        Assert.Equal(11.45m, decimal.Round(Book.Kits[0].MassKg, 2));
    }

    [Fact]
    public void Shipped_kit_has_no_work_on_a_car_and_pays_freight_by_mass_and_zone()
    {
        var priced = Price(Shipped("near"));

        Assert.Equal(["kit", "kit:labour", "door:L", "door:R", "freight"], priced.Lines.Select(l => l.Code));
        Assert.Equal(3_000, priced.Lines[^1].NetMinor);
        Assert.Contains(priced.Lines[^1].Explanation.Inputs, i => i is { Name: "Mass", Value: "11.5 kg" or "11.4 kg" });
        Assert.Empty(priced.Precautions);
    }

    [Theory]
    [InlineData(null, "freightZoneCode")]
    [InlineData("moon", "freightZoneCode")]
    [InlineData("far", "freightZoneCode")]
    public void Shipping_without_a_zone_that_carries_it_is_refused(string? zone, string path) =>
        AssertRefused(Shipped(zone), path);

    [Fact]
    public void Carriage_of_the_material_is_charged_on_a_fitted_car_by_the_same_bands()
    {
        var fitted = Book with { Freight = Book.Freight! with { FittedZoneCode = "near" } };
        var line = PriceEngine.Price(fitted, TestBook.Input).Value.Lines.Single(l => l.Code == "freight");
        Assert.Equal(3_000, line.NetMinor);

        // Too heavy for the last band is said, not charged as if it were lighter.
        var tooLight = Book with
        {
            Freight = Book.Freight! with { FittedZoneCode = "far" },
        };
        var failure = Assert.IsType<Failure.Invalid>(PriceEngine.Price(tooLight, TestBook.Input).Failure);
        Assert.Equal("freightZoneCode", Assert.Single(failure.Errors).Path);
    }

    [Fact]
    public void Work_on_a_part_is_priced_by_the_same_standards_and_rates()
    {
        var input = TestBook.Input with
        {
            Scope = Bench,
            Content = [new("20", "Work as quoted", Phase.FinalWeld, "welder", "weld-mm", 600)],
        };

        // 600 mm x 0.1 min = 1 h at 80.00, and 0.6 m of weld at 7.00.
        Assert.Equal(8_000 + 420, Price(input).SubtotalMinor);
        AssertRefused(input with { Scope = Bench with { KitCode = "bar-plain" } }, "kitCode");
        AssertRefused(input with { Scope = Bench with { Bench = [] }, Content = [] }, "bench");
    }

    [Fact]
    public void Return_visit_costs_nothing_only_with_a_reason()
    {
        var input = TestBook.Input with
        {
            Scope = Bench with { Kind = SaleKind.ReturnVisit },
            Content = [new("30", "Work as quoted", Phase.FinalWeld, "welder", "weld-mm", 600)],
        };
        var free = Price(
            input with
            {
                Extras = PriceExtras.None with { FreeReason = "Weld missed on the first visit" },
            }
        );

        Assert.Equal(0, free.TotalMinor);
        Assert.Equal(8_420, free.DiscountMinor);
        AssertRefused(input with { Discount = new(100, null) }, "freeReason");
        AssertRefused(input with { Discount = new(null, 8_420) }, "freeReason");
        AssertRefused(
            input with
            {
                Discount = new(100, null),
                Extras = PriceExtras.None with { DiscountLineCodes = ["labour:FinalWeld:welder", "material:wire"] },
            },
            "freeReason"
        );
        Assert.Equal(8_420, Price(input).SubtotalMinor);
        AssertRefused(TestBook.Input with { Extras = PriceExtras.None with { FreeReason = "A friend" } }, "freeReason");
    }

    [Fact]
    public void Discount_can_be_taken_from_chosen_lines_only()
    {
        var priced = Price(
            TestBook.Input with
            {
                Discount = new(10, null),
                Extras = PriceExtras.None with { DiscountLineCodes = ["kit", "door:L"] },
            }
        );

        Assert.Equal((100_000 + 9_000) / 10, priced.DiscountMinor);
        Assert.All(priced.Lines.Where(l => l.Code is not ("kit" or "door:L")), l => Assert.Equal(0, l.DiscountMinor));
        AssertRefused(
            TestBook.Input with
            {
                Discount = new(10, null),
                Extras = PriceExtras.None with { DiscountLineCodes = ["freight"] },
            },
            "discountLineCodes[0]"
        );
        AssertRefused(
            TestBook.Input with
            {
                Discount = new(null, 9_001),
                Extras = PriceExtras.None with { DiscountLineCodes = ["door:L"] },
            },
            "discountMinor"
        );
    }

    [Fact]
    public void Own_lines_and_outside_work_stand_on_the_quote()
    {
        var extras = PriceExtras.None with
        {
            Lines = [new("Window net", 2, "piece", 4_500, ["t"], 2_000), new("Storage", 0.5m, "week", 3_001, [])],
            OutsideWorkCodes = ["coat"],
        };
        var with = Price(TestBook.Input with { Extras = extras });
        var without = Price(TestBook.Input);

        Assert.Equal(9_000 + 1_501 + 24_000, with.SubtotalMinor - without.SubtotalMinor);
        Assert.Empty(Assert.Single(with.Lines, l => l.Description == "Storage").TaxCodes);
    }

    [Theory]
    [MemberData(nameof(BadExtras))]
    public void What_cannot_be_priced_is_named_at_its_field(string path, PriceExtras extras) =>
        AssertRefused(TestBook.Input with { Extras = extras }, path);

    public static TheoryData<string, PriceExtras> BadExtras()
    {
        static PriceExtras Line(ExtraLine line) => PriceExtras.None with { Lines = [line] };
        return new()
        {
            { "lines[0].quantity", Line(new("x", 0, "piece", 1, [])) },
            { "lines[0].quantity", Line(new("x", -1, "piece", 1, [])) },
            { "lines[0].quantity", Line(new("x", 1_000_001, "piece", 1, [])) },
            { "lines[0].unitPriceMinor", Line(new("x", 1, "piece", -1, [])) },
            { "lines[0].taxCodes[0]", Line(new("x", 1, "piece", 1, ["none"])) },
            { "lines[0].description", Line(new(" ", 1, "piece", 1, [])) },
            {
                "lines",
                PriceExtras.None with
                {
                    Lines = [.. Enumerable.Repeat(new ExtraLine("x", 1, "p", 1, []), 101)],
                }
            },
            { "outsideWorkCodes[0]", PriceExtras.None with { OutsideWorkCodes = ["none"] } },
            { "outsideWorkCodes[1]", PriceExtras.None with { OutsideWorkCodes = ["coat", "coat"] } },
            { "freightMassKg", PriceExtras.None with { FreightMassKg = 0 } },
        };
    }

    [Fact]
    public void Small_sale_is_raised_to_the_minimum_charge_before_discount()
    {
        var book = Book with { Minimum = new(200_000, ["t"]) };
        var priced = PriceEngine.Price(book, TestBook.Input).Value;

        Assert.Equal(200_000, priced.SubtotalMinor);
        Assert.Equal("minimum", priced.Lines[^1].Code);
        Assert.DoesNotContain(
            PriceEngine.Price(book with { Minimum = new(100, ["t"]) }, TestBook.Input).Value.Lines,
            l => l.Code == "minimum"
        );
    }

    [Fact]
    public void Margin_is_what_is_left_of_the_net_price_after_costs()
    {
        var book = Book with
        {
            Skills = [.. Book.Skills.Select(s => s with { CostMinorPerHour = 4_000 })],
            Materials = [Book.Materials[0] with { CostMinor = 300 }],
        };
        var priced = PriceEngine.Price(book, TestBook.Input with { Discount = new(null, 10_000) }).Value;
        var cost = priced.Cost!;

        // Parts 9000 + 2 x 700 + 500, work on the kit 12000, 5.0833 h x 40.00, 1.2 m x 3.00.
        Assert.Equal(10_900 + 12_000 + 20_333 + 360, cost.CostMinor);
        Assert.Equal(priced.SubtotalMinor - 10_000, cost.RevenueMinor);
        Assert.Equal(cost.RevenueMinor - cost.CostMinor, cost.MarginMinor);
        Assert.Equal(30, cost.TargetPercent);
        Assert.False(cost.IsUnderTarget);
    }

    [Fact]
    public void Tax_follows_the_rate_of_its_day()
    {
        var book = TestBook.Book with
        {
            Taxes = [new("t", "Tax", [new(new(2026, 1, 1), 10), new(new(2026, 7, 1), 12), new(new(2027, 1, 1), null)])],
        };
        decimal? RateOn(DateOnly day) =>
            PriceEngine.Price(book, TestBook.Input with { On = day }) is { IsSuccess: true } o
                ? o.Value.Taxes[0].RatePercent
                : null;

        Assert.Equal(10, RateOn(new(2026, 6, 30)));
        Assert.Equal(12, RateOn(new(2026, 7, 1)));
        var before = Assert.IsType<Failure.Invalid>(
            PriceEngine.Price(book, TestBook.Input with { On = new(2025, 12, 31) }).Failure
        );
        Assert.Contains("has no rate on 2025-12-31", before.Sentence, StringComparison.Ordinal);
        Assert.Null(RateOn(new(2027, 1, 1)));
        Assert.Equal(
            0,
            PriceEngine.Price(book, TestBook.Input with { On = new(2027, 1, 1), IsTaxExempt = true }).Value.TaxMinor
        );
    }

    [Fact]
    public void Deposit_is_a_part_of_what_is_due_but_at_least_so_much()
    {
        long Deposit(DepositRule rule) =>
            PriceEngine.Price(TestBook.Book with { Deposit = rule }, TestBook.Input).Value.DepositMinor;

        Assert.Equal(15_875, Deposit(new(10)));
        Assert.Equal(50_000, Deposit(new(10, 50_000)));
        Assert.Equal(158_752, Deposit(new(10, 999_999)));
    }

    private static void AssertRefused(PriceInput input, string path)
    {
        var failure = Assert.IsType<Failure.Invalid>(PriceEngine.Price(Book, input).Failure);
        Assert.Contains(failure.Errors, e => e.Path == path);
    }
}
