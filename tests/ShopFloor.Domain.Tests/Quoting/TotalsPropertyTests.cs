using System.Numerics;
using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class TotalsPropertyTests
{
    private static readonly string[] Codes = ["a", "b", "c"];

    private static readonly string[] Currencies = ["USD", "JPY", "KWD"];

    private static readonly Gen<TotalsLine> Lines = Gen.Select(
        Gen.Long[1, 10_000_000_000].Select(q => Math.Min(q, 1_000_000_000_000) / 1_000_000m),
        Gen.Long[0, 5_000_000],
        Gen.Shuffle(Codes).SelectMany(codes => Gen.Int[0, 3].Select(n => codes.Take(n).ToArray())),
        (quantity, price, codes) => new TotalsLine("A line", quantity, price, codes)
    );

    private static readonly Gen<decimal> Percents = Gen.Int[0, 1_000_000].Select(n => n / 10_000m);

    private static readonly Gen<TotalsRequest> Requests = Gen.Select(
            Lines.List[1, 12],
            Percents,
            Gen.Select(Percents, Percents, Percents),
            Gen.Bool,
            Gen.Bool,
            Gen.Bool,
            Gen.Int[0, 2].Select(i => Currencies[i])
        )
        .Select(
            (lines, discount, rates, isEven, isPerLine, isInside, currency) =>
                new TotalsRequest(
                    Currency.Of(currency),
                    isEven ? MoneyRounding.HalfEven : MoneyRounding.HalfUp,
                    isPerLine ? TaxPer.Line : TaxPer.Invoice,
                    isInside,
                    lines,
                    new Discount(discount, null),
                    [new("a", rates.Item1), new("b", rates.Item2), new("c", rates.Item3)],
                    0
                )
        );

    [Fact]
    public void Parts_always_add_up_to_the_whole() =>
        Requests.Sample(request =>
        {
            var totals = TotalsTests.Sum(request);
            Assert.Equal(totals.SubtotalMinor, totals.Lines.Sum(l => l.NetMinor));
            Assert.Equal(totals.DiscountMinor, totals.Lines.Sum(l => l.DiscountMinor));
            Assert.All(totals.Lines, l => Assert.Equal(l.NetMinor, l.DiscountMinor + l.TaxableMinor));
            Assert.All(totals.Lines, l => Assert.InRange(l.DiscountMinor, 0, l.NetMinor));
            Assert.Equal(totals.TaxMinor, totals.Taxes.Sum(t => t.TaxMinor));
            Assert.Equal(
                totals.SubtotalMinor - totals.DiscountMinor + (request.PricesIncludeTax ? 0 : totals.TaxMinor),
                totals.TotalMinor
            );
        });

    [Fact]
    public void Each_share_of_the_discount_is_less_than_one_unit_from_its_exact_part() =>
        Requests.Sample(request =>
        {
            var totals = TotalsTests.Sum(request);
            foreach (var line in totals.Lines.Where(_ => totals.SubtotalMinor > 0))
            {
                var apart =
                    (BigInteger)line.DiscountMinor * totals.SubtotalMinor
                    - (BigInteger)totals.DiscountMinor * line.NetMinor;
                Assert.True(BigInteger.Abs(apart) < totals.SubtotalMinor);
            }
        });

    [Fact]
    public void Tax_of_the_whole_paper_is_within_half_a_unit_of_rate_times_base() =>
        Requests
            .Where(r => !r.PricesIncludeTax && r.TaxPer == TaxPer.Invoice)
            .Sample(request =>
            {
                var totals = TotalsTests.Sum(request);
                for (var i = 0; i < totals.Taxes.Count; i++)
                {
                    var exact = totals.Taxes[i].TaxableMinor * request.Taxes[i].RatePercent / 100;
                    Assert.InRange(totals.Taxes[i].TaxMinor - exact, -0.5m, 0.5m);
                }
            });

    [Fact]
    public void Tax_inside_and_its_base_make_up_the_price_of_what_is_taxed() =>
        Requests
            .Where(r => r.PricesIncludeTax && r.TaxPer == TaxPer.Invoice)
            .Sample(request =>
            {
                var one = request with { Taxes = [request.Taxes[0]], Lines = [.. request.Lines.Select(OnlyA)] };
                var totals = TotalsTests.Sum(one);
                var gross = totals.Lines.Where((_, i) => one.Lines[i].TaxCodes.Count > 0).Sum(l => l.TaxableMinor);
                Assert.Equal(gross, totals.Taxes[0].TaxableMinor + totals.Taxes[0].TaxMinor);
            });

    [Fact]
    public void A_further_line_never_lowers_the_total_before_discount() =>
        Gen.Select(Requests, Lines)
            .Sample(
                (request, line) =>
                {
                    var without = request with { Discount = Discount.None };
                    var with = without with { Lines = [.. without.Lines, line] };
                    Assert.True(TotalsTests.Sum(with).TotalMinor >= TotalsTests.Sum(without).TotalMinor);
                }
            );

    [Fact]
    public void The_same_request_gives_the_same_cents() =>
        Requests.Sample(request =>
        {
            var first = TotalsTests.Sum(request);
            var second = TotalsTests.Sum(request);
            Assert.Equal(first.Lines, second.Lines);
            Assert.Equal(first.Taxes, second.Taxes);
            Assert.Equal(first.TotalMinor, second.TotalMinor);
        });

    private static TotalsLine OnlyA(TotalsLine line) =>
        line with
        {
            TaxCodes = line.TaxCodes.Contains("a") ? ["a"] : [],
        };
}
