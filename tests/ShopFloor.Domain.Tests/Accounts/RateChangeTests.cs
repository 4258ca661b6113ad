using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

public sealed class RateChangeTests
{
    private static readonly DateOnly Before = new(2026, 12, 31);
    private static readonly DateOnly After = new(2027, 1, 1);

    private static readonly PriceBook Book = TestBook.Book with
    {
        Taxes =
        [
            new("vat", "Value added tax", [new(new(2020, 1, 1), 19m), new(After, 21.5m)]),
            new("levy", "Levy", [new(new(2020, 1, 1), 1m), new(After, null)]),
        ],
    };

    [Fact]
    public void Rate_that_holds_is_not_mentioned() => Assert.Empty(RateChange.Of(Agreed("vat", "levy"), Book, Before));

    [Fact]
    public void New_rate_and_ended_tax_are_said_in_a_sentence_each() =>
        Assert.Equal(
            [
                "Value added tax was agreed at 19 %, and the price book now has 21.5 %.",
                "Levy was agreed at 1 %, and the price book now no longer charges it.",
            ],
            RateChange.Of(Agreed("vat", "levy"), Book, After).Select(c => c.Sentence)
        );

    [Fact]
    public void Tax_of_the_quote_and_of_a_change_is_said_once() =>
        Assert.Single(RateChange.Of([.. Agreed("vat"), .. Agreed("vat")], Book, After));

    [Fact]
    public void Rate_that_a_later_change_has_put_into_the_taxs_name_is_found_by_its_code()
    {
        var first = Content(Tax("vat", 19m));
        var later = Content(Tax("vat", 21.5m)).WithRatesApart(first.Taxes);
        Assert.Equal("vat 21.5%", Assert.Single(later.Taxes).Code);

        Assert.Empty(RateChange.Of(later.Taxes, Book, After));
        Assert.Single(RateChange.Of(later.Taxes, Book, Before));
    }

    private static IReadOnlyList<QuotedTax> Agreed(params string[] codes) =>
        [.. codes.Select(c => Tax(c, c == "vat" ? 19m : 1m))];

    private static QuotedTax Tax(string code, decimal rate) =>
        new(code, code == "vat" ? "Value added tax" : "Levy", rate, 10_000, (long)(rate * 100));

    private static InvoiceContent Content(QuotedTax tax) =>
        TestPapers.Open().Account.Charges[0].Content with
        {
            Taxes = [tax],
        };
}
