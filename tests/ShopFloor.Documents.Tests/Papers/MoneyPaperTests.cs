using ShopFloor.Documents.Images;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Tests.Papers;

public sealed class MoneyPaperTests
{
    private static readonly PdfPapers Papers = new();

    /// <summary>What a tax invoice must hold, held against the list of HMRC's manual COG941020 "a VAT invoice" (gov.uk, read 25 November 2026) and points 1, 2, 3, 5, 6
    /// and 7 of Article 226 of Directive 2006/112/EC (read the same day); points 8 to 10 of the Article (base by rate, rate, tax amount) from memory.</summary>
    [Theory]
    [InlineData(
        "a sequential number which identifies the document (COG941020; Article 226 point 2)",
        "Number I-2026-0007"
    )]
    [InlineData("the time of supply (COG941020; Article 226 point 7)", "Supplied 5 November 2026")]
    [InlineData("the invoice date (COG941020; Article 226 point 1)", "Issued 6 November 2026")]
    [InlineData("the name of the business (COG941020; Article 226 point 5)", "Hollow Lane Fabrication Ltd")]
    [InlineData("the address of the business (COG941020; Article 226 point 5)", "Unit 4, Hollow Lane")]
    [InlineData("the tax number of the business (COG941020; Article 226 point 3)", "Tax registration XX 000 0000 01")]
    [InlineData("the name of the customer (COG941020; Article 226 point 5)", "Zoë Ærøskjöld-Łukasiewicz")]
    [InlineData("the address of the customer (COG941020; Article 226 point 5)", "12 Quill Row")]
    [InlineData("the customer's tax number (Article 226 point 4)", "Tax number XX123456789")]
    [InlineData(
        "a description of what was supplied (COG941020; Article 226 point 6)",
        "Swing-out hinge with pin, left door"
    )]
    [InlineData("its quantity or extent (COG941020; Article 226 point 6)", "23.75 h")]
    [InlineData("the unit price (Article 226 point 8, from memory)", "72.00")]
    [InlineData(
        "base, rate and tax by rate (Article 226 points 8 to 10, from memory)",
        "Standard tax (STD) 21 % 4,000.00 EUR 840.00 EUR"
    )]
    [InlineData("the gross value (COG941020)", "Total 4,840.00 EUR")]
    [InlineData(
        "why no tax is charged where none is (Article 226 point 11, from memory)",
        "Tax on the second-hand parts was charged by their seller."
    )]
    public void Tax_invoice_shows_each_thing_on_the_authorities_lists(string wanted, string says)
    {
        using var paper = new ReadBack(Papers.Invoice(Samples.Invoice(), Samples.A4));

        Assert.True(Squeeze(paper.Text).Contains(Squeeze(says), StringComparison.Ordinal), wanted);
    }

    [Fact]
    public void Part_invoice_says_of_what_it_is_a_part_and_what_was_invoiced_beside_it()
    {
        using var paper = new ReadBack(Papers.Invoice(MoneySamples.PartInvoice(), Samples.A4));

        AssertSays(
            paper,
            "Part invoice",
            "Part of 23.75 h, which comes to 1,710.00 EUR in all",
            "Part invoice I-2026-0006 500.00 EUR",
            "in exchange:",
            "-200.00 EUR",
            "Still to be paid 1,334.55 EUR",
            "A tax adviser decides",
            Samples.Hash
        );
        Assert.StartsWith("Part invoice I-2026-0007", paper.Title, StringComparison.Ordinal);
    }

    /// <summary>Article 219 of Directive 2006/112/EC asks for a specific and unambiguous reference to the initial invoice (as quoted by Article 226b, read 25 November 2026).</summary>
    [Fact]
    public void Credit_note_refers_to_its_invoice_gives_the_reason_and_asks_for_no_money()
    {
        using var paper = new ReadBack(Papers.Invoice(MoneySamples.CreditNote(), Samples.Letter));

        AssertSays(
            paper,
            "Credit note",
            "C-2026-0001",
            "Credits Invoice I-2026-0007",
            "takes back what is listed here of invoice I-2026-0007",
            "The hours were fewer than agreed.",
            "1,034.55 EUR"
        );
        Assert.DoesNotContain("Still to be paid", paper.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("How to pay", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Order_confirmation_says_what_was_agreed_by_whom_and_for_when()
    {
        using var paper = new ReadBack(Papers.Order(MoneySamples.Order(), Samples.A4));

        AssertSays(
            paper,
            "Order confirmation",
            "J-2026-0004",
            "Promised for 6 November 2026",
            "We confirm the order that Zoë Ærøskjöld-Łukasiewicz gave on 19 Sep 2026, 10:30.",
            "The total is made of Q-2026-0003 revision 2 (4,500.00 EUR), CO-2026-0001 (340.00 EUR).",
            "Work begins when it has been paid.",
            Samples.Hash
        );
    }

    [Fact]
    public void Statement_carries_every_row_and_its_balance_over_its_pages()
    {
        using var paper = new ReadBack(Papers.Statement(MoneySamples.Statement(90), Samples.A4));

        Assert.True(paper.PageCount > 1);
        Assert.All(
            Enumerable.Range(1, 89),
            i => Assert.Contains($"R-2026-{i:0000}", paper.Text, StringComparison.Ordinal)
        );
        AssertSays(
            paper,
            "Still to be paid: 3,950.00 EUR",
            "Invoice I-2026-0007, 6 November 2026",
            "-1,034.55 EUR",
            "This statement is not a tax invoice."
        );
        Assert.Contains($"Page 1 of {paper.PageCount}", paper.PageText(1), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, "The account is settled")]
    [InlineData(-500, "To be paid back to you: 5.00 EUR")]
    public void Statement_says_who_owes_whom(long balance, string says)
    {
        using var paper = new ReadBack(
            Papers.Statement(MoneySamples.Statement() with { Balance = Samples.Eu(balance) }, Samples.A4)
        );

        AssertSays(paper, says);
    }

    [Fact]
    public void Logo_stands_on_the_first_page_within_its_bounds_and_papers_without_one_have_no_picture()
    {
        using var with = new ReadBack(Papers.Invoice(MoneySamples.PartInvoice(), Samples.A4));
        using var without = new ReadBack(Papers.Invoice(Samples.Invoice(), Samples.A4));

        var place = Assert.Single(with.Pages.First().GetImages()).BoundingBox;
        Assert.InRange(place.Height, 1, 18.01 * 72 / 25.4);
        Assert.InRange(place.Left, 0, with.Pages.First().Width / 2);
        Assert.Empty(without.Pages.SelectMany(p => p.GetImages()));
    }

    [Fact]
    public void Receipt_of_goods_names_who_gave_and_who_took_them_and_cautions()
    {
        var receipt = Samples.Receipt(ReceiptKind.TradeCredit) with
        {
            Method = "a set of wheels",
            GivenBy = "Zoë Giver",
            Notes = [MoneySamples.Barter],
        };
        using var paper = new ReadBack(Papers.Receipt(receipt, Samples.A4));

        AssertSays(
            paper,
            "Given by",
            "Zoë Giver",
            "Taken by",
            "Ines Falk",
            "a set of wheels",
            "may be taxable for both sides"
        );
    }

    [Theory]
    [InlineData("%PDF-1.4\n…\n%%EOF\n", true)]
    [InlineData("%PDF-1.4\n…", false)]
    [InlineData("MZ%PDF-1.4 %%EOF", false)]
    [InlineData("", false)]
    public void Pdf_is_told_by_its_content(string content, bool isPdf) =>
        Assert.Equal(isPdf, PdfSniffer.IsPdf(System.Text.Encoding.UTF8.GetBytes(content)));

    private static void AssertSays(ReadBack paper, params string[] texts)
    {
        foreach (var text in texts)
        {
            Assert.Contains(Squeeze(text), Squeeze(paper.Text), StringComparison.Ordinal);
        }
    }

    private static string Squeeze(string text) => text.Replace(" ", "", StringComparison.Ordinal);
}
