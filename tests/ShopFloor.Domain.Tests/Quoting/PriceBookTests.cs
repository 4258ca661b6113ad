using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class PriceBookTests
{
    [Fact]
    public void Adopted_book_gets_the_next_edition_and_its_day()
    {
        var adopted = Adopt(TestBook.Book, newest: 3).Value;

        Assert.Equal((4, 4, TestBook.Today), (adopted.Edition, adopted.Book.Edition, adopted.Book.EffectiveFrom));
    }

    [Theory]
    [MemberData(nameof(BadBooks))]
    public void Book_that_could_not_price_is_refused_at_its_field(string path, Func<PriceBook, PriceBook> spoil)
    {
        var failure = Assert.IsType<Failure.Invalid>(Adopt(spoil(TestBook.Book), newest: 0).Failure);

        Assert.Contains(failure.Errors, e => e.Path == path);
    }

    public static TheoryData<string, Func<PriceBook, PriceBook>> BadBooks() =>
        new()
        {
            { "title", b => b with { Title = " " } },
            { "currencyCode", b => b with { CurrencyCode = "XXX" } },
            { "deposit.percent", b => b with { Deposit = new(101) } },
            { "validityDays", b => b with { ValidityDays = 0 } },
            { "promiseDays", b => b with { PromiseDays = 731 } },
            { "wholeCarSpread", b => b with { WholeCarSpread = 1.1m } },
            { "confidencePercent", b => b with { ConfidencePercent = 75 } },
            { "kits", b => b with { Kits = [] } },
            { "kits[1].code", b => b with { Kits = [b.Kits[0], b.Kits[0]] } },
            { "kits[0].priceMinor", b => b with { Kits = [b.Kits[0] with { PriceMinor = -1 }] } },
            { "kits[0].taxCodes", b => b with { Kits = [b.Kits[0] with { TaxCodes = ["none"] }] } },
            {
                "standards[0]",
                b => b with { Standards = [new("seam-m", "Seam", "m", 3, 2, 4), .. b.Standards.Skip(1)] }
            },
            {
                "questions[1].default",
                b => b with { Questions = [b.Questions[0], b.Questions[1] with { Default = "none of them" }] }
            },
            {
                "questions[0].answers[0].factors",
                b => b with { Questions = [new("q", "Q", "a", [new("a", "A", [new("seam-m", 0)], [])])] }
            },
            {
                "questions[0].answers[0].factors",
                b =>
                    b with
                    {
                        Questions = [new("q", "Q", "a", [new("a", "A", [new("seam-m", 2), new("seam-m", 3)], [])])],
                    }
            },
            {
                "kits[0].welds",
                b =>
                    b with
                    {
                        Kits =
                        [
                            b.Kits[0] with
                            {
                                Welds =
                                [
                                    .. Enumerable.Range(0, 201).Select(i => new KitWeld($"w{i}", "gmaw", "flat", 1)),
                                ],
                            },
                        ],
                    }
            },
            {
                "kits[0].contents",
                b => b with { Kits = [b.Kits[0] with { Contents = [.. Enumerable.Repeat("c", 201)] }] }
            },
            {
                "materials[0].standardCodes",
                b => b with { Materials = [b.Materials[0] with { StandardCodes = ["none"] }] }
            },
            { "materials[0].contentPerUnit", b => b with { Materials = [b.Materials[0] with { ContentPerUnit = 0 }] } },
            { "taxes[0].rates[0].ratePercent", b => b with { Taxes = [new("t", "Tax", [new(Day, -1)])] } },
            { "taxes[0].rates[1].from", b => b with { Taxes = [new("t", "Tax", [new(Day, 1), new(Day, 2)])] } },
            { "taxes[0].rates", b => b with { Taxes = [new("t", "Tax", [])] } },
            { "minimum.taxCodes", b => b with { Minimum = new(100, ["none"]) } },
            { "outsideWork[0].waitDays", b => b with { OutsideWork = [new("coat", "Coating", 1, 1, 366, [])] } },
            { "freight.zones", b => b with { Freight = new("Carriage", [], []) } },
            {
                "freight.zones[0].bands[1].upToKg",
                b => b with { Freight = new("Carriage", [new("z", "Zone", [new(5, 1), new(5, 2)])], []) }
            },
            { "freight.fittedZoneCode", b => b with { Freight = new("C", [new("z", "Z", [new(5, 1)])], [], "none") } },
            {
                "kits[0].parts[0].wallMm",
                b =>
                    WithPart(
                        b,
                        new("p", "P", KitPartKind.Tube, 1, 0)
                        {
                            OutsideDiameterMm = 40,
                            WallMm = 20,
                            LengthMm = 9,
                        }
                    )
            },
            { "kits[0].parts[0].lengthMm", b => WithPart(b, new("p", "P", KitPartKind.Plate, 1, 0)) },
            { "kits[0].parts[0].massKg", b => WithPart(b, new("p", "P", KitPartKind.Hardware, 1, 0)) },
            {
                "hingeOptions[0].bodyLengthMm",
                b => b with { HingeOptions = [b.HingeOptions[0] with { InsertLengthMm = 5 }] }
            },
            {
                "hingeOptions[0].work[0].standardCode",
                b => b with { HingeOptions = [b.HingeOptions[0] with { Work = [new("50", "none", 1)] }] }
            },
            {
                "standards[0].runs.coolingSeconds",
                b => b with { Standards = [Thin(new(3, 2, 1)), .. b.Standards.Skip(1)] }
            },
            { "materials[0].labourPercent", b => b with { Materials = [b.Materials[0] with { LabourPercent = 5 }] } },
            {
                // A tank that stays fitted is never only a factor.
                "questions[0].answers[1]",
                b =>
                    b with
                    {
                        Questions =
                        [
                            new(
                                "tank",
                                "Tank",
                                "out",
                                [
                                    new("out", "out", [], []),
                                    new("in", "in", [new("seam-m", 2)], ["Careful."]) { LeavesTankFitted = true },
                                ]
                            ),
                        ],
                    }
            },
        };

    private static readonly DateOnly Day = new(2026, 1, 1);

    private static PriceBook WithPart(PriceBook book, KitPart part) =>
        book with
        {
            Kits = [book.Kits[0] with { Parts = [part] }],
        };

    private static LabourStandard Thin(SecondsRange cooling) =>
        new("seam-m", "Thin", "mm", 0, 0, 0) { Runs = new ShortRuns(9.5m, new(1, 2, 3), cooling) };

    private static Outcome<PriceBookEdition> Adopt(PriceBook book, int newest) =>
        PriceBookEdition.Adopt(TestBook.BookId, book, newest, TestBook.Today, TestBook.Clock.GetUtcNow(), by: null);
}
