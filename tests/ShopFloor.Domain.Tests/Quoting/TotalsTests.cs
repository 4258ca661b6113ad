using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class TotalsTests
{
    [Fact]
    public void Tax_is_carried_to_the_third_decimal_and_rounded_up_above_four()
    {
        // Streamlined Sales and Use Tax Agreement section 324 (as enacted in R.I. Gen. Laws 44-18.1-25): 6.20 at 7.5 % is 0.465, so 0.47.
        var totals = Sum(Usd([Line(1, 620, "s")], new TaxRate("s", 7.5m)));

        Assert.Equal(47, totals.TaxMinor);
        Assert.Equal(667, totals.TotalMinor);
    }

    [Theory]
    [InlineData(TaxPer.Invoice, 221)]
    [InlineData(TaxPer.Line, 222)]
    public void Tax_may_be_rounded_per_paper_or_per_line(TaxPer per, long tax)
    {
        // The same section leaves the choice to the seller. 6.20 + 3.33 + 19.99 at 7.5 %: 2.214 in all, 0.47 + 0.25 + 1.50 line by line.
        var request = Usd([Line(1, 620, "s"), Line(1, 333, "s"), Line(1, 1999, "s")], new TaxRate("s", 7.5m));

        Assert.Equal(tax, Sum(request with { TaxPer = per }).TaxMinor);
    }

    [Theory]
    [InlineData(TaxPer.Invoice, 4)]
    [InlineData(TaxPer.Line, 3)]
    public void Three_small_lines_round_differently_per_line(TaxPer per, long tax)
    {
        // 3 × 0.20 at 7.25 %: 0.0435 in all, 0.0145 a line.
        var request = Usd([Line(1, 20, "s"), Line(1, 20, "s"), Line(1, 20, "s")], new TaxRate("s", 7.25m));

        Assert.Equal(tax, Sum(request with { TaxPer = per }).TaxMinor);
    }

    // United Kingdom, Value Added Tax Act 1994 section 19: the tax in a gross sum is 1/6 of it at 20 % and 3/23 at 15 % (fractions read in a published
    // commentary on that section); 1/21 at 5 %, and the worked amounts 200 + 10 = 210, read in a professional bookkeepers' institute's forum.
    [Theory]
    [InlineData(20, 12_000, 2_000)]
    [InlineData(15, 11_500, 1_500)]
    [InlineData(5, 21_000, 1_000)]
    public void Price_with_tax_inside_gives_the_value_added_tax_fraction(int rate, long gross, long tax)
    {
        var totals = Sum(Usd([Line(1, gross, "v")], new TaxRate("v", rate)) with { PricesIncludeTax = true });

        Assert.Equal(tax, totals.TaxMinor);
        Assert.Equal(gross - tax, totals.Taxes[0].TaxableMinor);
        Assert.Equal(gross, totals.TotalMinor);
    }

    [Fact]
    public void Tax_inside_is_shared_among_two_codes_in_proportion_to_their_rates()
    {
        var request = Usd([Line(1, 10000, "b", "a")], new TaxRate("a", 5), new TaxRate("b", 9.975m)) with
        {
            PricesIncludeTax = true,
        };

        var totals = Sum(request);

        // 100.00 / 1.14975 = 86.975… → 86.98; 13.02 shared 5 : 9.975 is 434.72… and 867.27… cents, and the larger remainder gets the cent.
        Assert.Equal([8698L, 8698L], totals.Taxes.Select(t => t.TaxableMinor));
        Assert.Equal([435L, 867L], totals.Taxes.Select(t => t.TaxMinor));
        Assert.Equal(10000, totals.TotalMinor);
    }

    [Fact]
    public void Lines_with_the_same_codes_in_another_order_are_one_group()
    {
        var taxes = new[] { new TaxRate("a", 5), new TaxRate("b", 7) };
        var together = Usd([Line(1, 101, "a", "b"), Line(1, 102, "b", "a")], taxes) with { PricesIncludeTax = true };
        var one = Usd([Line(1, 203, "a", "b")], taxes) with { PricesIncludeTax = true };

        Assert.Equal(Sum(one).Taxes, Sum(together).Taxes);
    }

    [Fact]
    public void A_hundred_in_three_parts_keeps_its_sum()
    {
        var totals = Sum(Usd([Line(1, 20000), Line(1, 20000), Line(1, 20000)]) with { Discount = new(null, 10000) });

        Assert.Equal([3334L, 3333L, 3333L], totals.Lines.Select(l => l.DiscountMinor));
    }

    [Theory]
    [InlineData(MoneyRounding.HalfUp, 125621)]
    [InlineData(MoneyRounding.HalfEven, 125620)]
    public void Exactly_half_a_unit_follows_the_rounding_asked(MoneyRounding rounding, long discount)
    {
        // 30 % of 4187.35 is 1256.205.
        var request = Usd([Line(1, 418735)]) with
        {
            Discount = new(30, null),
            Rounding = rounding,
        };

        Assert.Equal(discount, Sum(request).DiscountMinor);
    }

    [Fact]
    public void Quantity_with_six_decimals_is_rounded_once()
    {
        Assert.Equal(1, Sum(Usd([Line(0.000001m, 500_000)])).SubtotalMinor);
        Assert.Equal(0, Sum(Usd([Line(0.000001m, 499_999)])).SubtotalMinor);
    }

    [Fact]
    public void Largest_amounts_are_added_up_without_losing_a_unit()
    {
        const long most = TotalsRules.LargestMinor;
        var totals = Sum(Usd([Line(1, most - 1), Line(1, 1)]) with { Discount = new(100, null) });

        Assert.Equal(most, totals.SubtotalMinor);
        Assert.Equal([most - 1, 1], totals.Lines.Select(l => l.DiscountMinor));
        Assert.Equal(0, totals.TotalMinor);
    }

    [Fact]
    public void Nothing_to_share_shares_nothing()
    {
        var totals = Sum(Usd([Line(1, 0), Line(2, 0)]) with { Discount = new(50, null) });

        Assert.Equal([0L, 0L], totals.Lines.Select(l => l.DiscountMinor));
        Assert.Equal(0, totals.TotalMinor);
    }

    [Fact]
    public void Every_tax_asked_is_answered_even_where_nobody_carries_it()
    {
        var totals = Sum(Usd([Line(1, 100, "b")], new TaxRate("a", 5), new TaxRate("b", 10)));

        Assert.Equal([new TaxResult("a", 0, 0), new TaxResult("b", 100, 10)], totals.Taxes);
    }

    [Fact]
    public void Trade_credit_lowers_only_the_amount_due()
    {
        var totals = Sum(Usd([Line(1, 10000, "a")], new TaxRate("a", 10)) with { TradeCreditMinor = 3000 });

        Assert.Equal((11000, 1000, 8000), (totals.TotalMinor, totals.TaxMinor, totals.AmountDueMinor));
    }

    [Theory]
    [MemberData(nameof(BadInputs))]
    public void Bad_input_is_named_at_its_field(string path, Func<TotalsRequest, TotalsRequest> spoil)
    {
        var good = Usd([Line(1, 1000, "a")], new TaxRate("a", 10));
        Assert.True(TotalsCalculator.Calculate(good).IsSuccess);

        var failure = Assert.IsType<Failure.Invalid>(TotalsCalculator.Calculate(spoil(good)).Failure);

        Assert.Contains(failure.Errors, e => e.Path == path);
    }

    public static TheoryData<string, Func<TotalsRequest, TotalsRequest>> BadInputs() =>
        new()
        {
            { "lines", r => r with { Lines = [] } },
            { "lines", r => r with { Lines = [.. Enumerable.Repeat(Line(1, 1), TotalsRules.MostLines + 1)] } },
            { "lines[0].quantity", r => r with { Lines = [Line(0, 1)] } },
            { "lines[0].quantity", r => r with { Lines = [Line(-1, 1)] } },
            { "lines[0].quantity", r => r with { Lines = [Line(1_000_001, 1)] } },
            { "lines[0].quantity", r => r with { Lines = [Line(0.0000001m, 1)] } },
            { "lines[0].unitPriceMinor", r => r with { Lines = [Line(1, -1)] } },
            { "lines[0].unitPriceMinor", r => r with { Lines = [Line(1, TotalsRules.LargestMinor + 1)] } },
            { "lines[0].unitPriceMinor", r => r with { Lines = [Line(1_000_000, TotalsRules.LargestMinor)] } },
            { "lines", r => r with { Lines = [Line(1, TotalsRules.LargestMinor), Line(1, 1)] } },
            { "lines", r => r with { Lines = [Line(1, TotalsRules.LargestMinor, "a")] } },
            { "lines[0].taxCodes[0]", r => r with { Lines = [Line(1, 1, "x")] } },
            { "lines[0].taxCodes[1]", r => r with { Lines = [Line(1, 1, "a", "a")] } },
            { "taxes[1].code", r => r with { Taxes = [new("a", 1), new("a", 2)] } },
            { "taxes[0].ratePercent", r => r with { Taxes = [new("a", 100.0001m)] } },
            { "taxes[0].ratePercent", r => r with { Taxes = [new("a", 1.00001m)] } },
            { "taxes[0].ratePercent", r => r with { Taxes = [new("a", -1)] } },
            { "discountPercent", r => r with { Discount = new(100.5m, null) } },
            { "discountPercent", r => r with { Discount = new(-0.0001m, null) } },
            { "discountMinor", r => r with { Discount = new(1, 1) } },
            { "discountMinor", r => r with { Discount = new(null, 1001) } },
            { "discountMinor", r => r with { Discount = new(null, -1) } },
            { "tradeCreditMinor", r => r with { TradeCreditMinor = 1101 } },
            { "tradeCreditMinor", r => r with { TradeCreditMinor = -1 } },
        };

    internal static TotalsLine Line(decimal quantity, long unitPrice, params string[] codes) =>
        new("A line", quantity, unitPrice, codes);

    internal static TotalsRequest Usd(IReadOnlyList<TotalsLine> lines, params TaxRate[] taxes) =>
        new(
            Currency.Of("USD"),
            MoneyRounding.HalfUp,
            TaxPer.Invoice,
            PricesIncludeTax: false,
            lines,
            Discount.None,
            taxes,
            TradeCreditMinor: 0
        );

    internal static TotalsResult Sum(TotalsRequest request) => TotalsCalculator.Calculate(request).Value;
}
