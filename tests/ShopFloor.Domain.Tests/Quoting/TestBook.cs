using Microsoft.Extensions.Time.Testing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

/// <summary>A small price book with round figures, a scope and its work content.</summary>
internal static class TestBook
{
    public static readonly DateOnly Today = new(2026, 5, 4);
    public static readonly FakeTimeProvider Clock = new(new DateTimeOffset(2026, 5, 4, 9, 0, 0, TimeSpan.Zero));
    public static readonly PriceBookId BookId = PriceBookId.From(new Guid("019f0000-0000-7000-8000-000000000001"));

    public static PriceBook Book { get; } =
        new(
            1,
            Today,
            "Test prices",
            "EUR",
            PricesIncludeTax: false,
            MoneyRounding.HalfUp,
            TaxPer.Invoice,
            new DepositRule(30),
            ValidityDays: 14,
            PromiseDays: 21,
            WholeCarSpread: 0,
            ConfidencePercent: 50,
            [new("street", "Street", false), new("sanctioned", "Sanctioned events", true)],
            [
                new("bar-with-doors", "Bar with door bars", true, 100_000, ["hoop"], ["t"]),
                new("bar-plain", "Plain bar", false, 60_000, ["hoop"], ["t"]),
            ],
            [new("fixed", "fixed", "Welded.", 0, ["t"]), new("swing", "swing-out", "Opens.", 9_000, ["t"])],
            [new("fitter", "fitting", 6_000, ["t"]), new("welder", "welding", 8_000, ["t"])],
            [
                new("seam-m", "Seam to bare metal", "m", 20, 30, 40),
                new("weld-mm", "Weld", "mm", 0.1m, 0.1m, 0.1m),
                new("plate", "Plate formed", "plate", 30, 60, 120),
            ],
            [
                new(
                    "rust",
                    "Rust",
                    "none",
                    [
                        new("none", "none", [], []),
                        new("light", "light", [new("seam-m", 1.5m)], []),
                        new("heavy", "heavy", [new("seam-m", 2), new("plate", 1.5m)], ["Look before welding."]),
                    ]
                ),
                new(
                    "filler",
                    "Seam filler",
                    "some",
                    [new("some", "some", [], []), new("none", "none", [new("seam-m", 0.5m)], [])]
                ),
            ],
            [new("wire", "Wire and gas", MaterialGroup.Consumables, "m of weld", ["weld-mm"], 1000, 700, ["t"])],
            Freight: null,
            [new("t", "Tax", [new(new DateOnly(2020, 1, 1), 10)])]
        );

    public static JobScope Scope { get; } =
        new(
            "bar-with-doors",
            "street",
            [],
            [new(DoorSide.Left, "swing"), new(DoorSide.Right, "fixed")],
            new Dictionary<string, string>(),
            Car.UnknownFacts
        );

    public static IReadOnlyList<WorkContent> Content { get; } =
    [
        new("50", "Seams to bare metal", Phase.SeamPrep, "fitter", "seam-m", 4),
        new("70", "Left plate", Phase.PlateFit, "fitter", "plate", 1),
        new("170", "Plates welded", Phase.FinalWeld, "welder", "weld-mm", 1200),
    ];

    public static PriceInput Input { get; } = new(Scope, Content, Discount.None, 0, Today);

    public static PriceInput With(params (string Question, string Answer)[] answers) =>
        Input with
        {
            Scope = Scope with { Condition = answers.ToDictionary(a => a.Question, a => a.Answer) },
        };

    public static PricedQuote Price(PriceInput input) => PriceEngine.Price(Book, input).Value;

    public static QuoteTerms Terms { get; } = new(Scope, Discount.None, 0, null, null, null, null, IsTaxExempt: false);

    public static Quote Draft() =>
        Quote.Draft(
            Ids.New<QuoteId>(Clock),
            "Q-2026-0001",
            Ids.New<CustomerId>(Clock),
            Ids.New<CarId>(Clock),
            Terms,
            BookId,
            Price(Input),
            Clock.GetUtcNow()
        );

    public static Quote Sent()
    {
        var quote = Draft();
        Assert.True(quote.Send(Book, Today, Clock.GetUtcNow()).IsSuccess);
        return quote;
    }

    public static Quote Accepted(Func<QuoteTerms, QuoteTerms>? change = null)
    {
        var quote = Draft();
        var terms = change?.Invoke(Terms) ?? Terms;
        var priced = Price(Input with { Discount = terms.Discount, TradeCreditMinor = terms.TradeCreditMinor });
        Assert.True(quote.Edit(quote.CustomerId, quote.CarId, terms, BookId, priced).IsSuccess);
        Assert.True(quote.Send(Book, Today, Clock.GetUtcNow()).IsSuccess);
        Assert.True(quote.Accept("A. Customer", quote.ContentHash, Today, Clock.GetUtcNow()).IsSuccess);
        return quote;
    }
}
