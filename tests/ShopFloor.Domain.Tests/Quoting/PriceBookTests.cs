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
            { "depositPercent", b => b with { DepositPercent = 101 } },
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
                "materials[0].standardCodes",
                b => b with { Materials = [b.Materials[0] with { StandardCodes = ["none"] }] }
            },
            { "materials[0].contentPerUnit", b => b with { Materials = [b.Materials[0] with { ContentPerUnit = 0 }] } },
            { "taxes[0].ratePercent", b => b with { Taxes = [new("t", "Tax", -1)] } },
        };

    private static Outcome<PriceBookEdition> Adopt(PriceBook book, int newest) =>
        PriceBookEdition.Adopt(TestBook.BookId, book, newest, TestBook.Today, TestBook.Clock.GetUtcNow(), by: null);
}
