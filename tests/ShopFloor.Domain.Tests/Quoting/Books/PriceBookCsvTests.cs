using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting.Books;

public sealed class PriceBookCsvTests
{
    public static TheoryData<string> Parts => [.. PriceBookCsv.Parts.Select(p => p.Code)];

    [Theory]
    [MemberData(nameof(Parts))]
    public void Part_survives_its_file(string part)
    {
        var again = PriceBookCsv.Read(FullBook.Book, part, PriceBookCsv.Write(FullBook.Book, part)).Value;

        Assert.Equal(FullBook.JsonOf(FullBook.Book), FullBook.JsonOf(again));
    }

    /// <summary>All parts of one book, taken one after another into another book, make it the same book.</summary>
    [Fact]
    public void All_files_of_a_book_make_another_book_the_same()
    {
        var count = FullBook.Cells(BookRows.Of(FullBook.Book)).Count();
        Gen.Int[0, count - 1]
            .HashSet[0, 20]
            .Sample(
                chosen =>
                {
                    var root = BookRows.Of(FullBook.Book);
                    var cells = FullBook.Cells(root).ToList();
                    foreach (var (row, field, isKey, _) in chosen.Select(i => cells[i]))
                    {
                        row[field] = isKey ? row[field] : FullBook.Other(field, row[field]);
                    }

                    var wanted = FullBook.Read(root);
                    var made = PriceBookCsv.Parts.Aggregate(
                        TestBook.Book,
                        (book, part) => PriceBookCsv.Read(book, part.Code, PriceBookCsv.Write(wanted, part.Code)).Value
                    );
                    Assert.Equal(FullBook.JsonOf(wanted), FullBook.JsonOf(made));
                },
                iter: 100
            );
    }

    [Fact]
    public void Amounts_are_written_in_whole_units_with_the_digits_of_the_currency()
    {
        var lines = PriceBookCsv.Write(FullBook.Book, "skills").Split("\r\n");

        Assert.Equal("code,title,ratePerHour,taxCodes,costPerHour", lines[0]);
        Assert.Equal("fitter,fitting,60.00,t,39.00", lines[1]);
        var yen = PriceBookCsv.Write(FullBook.Book with { CurrencyCode = "JPY" }, "skills").Split("\r\n");
        Assert.Equal("fitter,fitting,6000,t,3900", yen[1]);
    }

    [Fact]
    public void Column_that_is_left_out_keeps_its_values_and_the_entry_its_own_rows()
    {
        var csv = "\uFEFFcode,price\nbar-with-doors,1100.50\nbar-plain,600\n\n";

        var book = PriceBookCsv.Read(FullBook.Book, "kits", csv).Value;

        Assert.Equal(
            ["Kit Bar with door bars: price 1000.00 → 1100.50"],
            PriceBookComparison.Between(FullBook.Book, book).Changes.Select(c => c.Sentence)
        );
    }

    [Theory]
    [InlineData(
        "skills",
        "code,title,ratePerHour,taxCodes\nfitter,fitting,sixty,t",
        "row 2, ratePerHour",
        "Row 2, column ratePerHour: 'sixty' is no amount; write it as 125.50."
    )]
    [InlineData(
        "skills",
        "code,title,ratePerHour,taxCodes\n\nfitter,fitting,60.005,t",
        "row 3, ratePerHour",
        "Row 3, column ratePerHour: EUR has 2 digits after the point; '60.005' has more."
    )]
    [InlineData(
        "skills",
        "code,title,ratePerHour,taxCodes\nfitter,fitting,\"1,250\",t",
        "row 2, ratePerHour",
        "Row 2, column ratePerHour: '1,250' is no amount; write it as 125.50."
    )]
    [InlineData(
        "skills",
        "code,title,ratePerHour,taxCodes\nnew,new,,t",
        "row 2, ratePerHour",
        "Row 2, column ratePerHour: Give an amount; 0 for none."
    )]
    [InlineData(
        "skills",
        "code;title;ratePerHour\nfitter;fitting;60",
        "row 1",
        "The cells of this file are not parted by commas; save it as CSV with commas."
    )]
    [InlineData(
        "skills",
        "code,salary\nfitter,60",
        "row 1, salary",
        "Row 1: there is no column 'salary'; known are code, title, ratePerHour, taxCodes, costPerHour."
    )]
    [InlineData("skills", "title\nfitting", "row 1, code", "Row 1: the column 'code' is missing.")]
    [InlineData("skills", "code,code\nfitter,fitter", "row 1", "Row 1: a column is given twice.")]
    [InlineData(
        "skills",
        "code,title\nfitter,fitting,wood",
        "row 2",
        "Row 2 has 3 cells, but there are 2 columns. A text with a comma stands in double quotes."
    )]
    [InlineData("skills", "", "row 1", "The file is empty; its first row holds the heads of the columns.")]
    [InlineData("skills", "code,title\nfitter,\"fitting", "line 2", "Line 2: a quote is opened and not closed.")]
    [InlineData(
        "kit-parts",
        "kit,code\nnone,hoop",
        "row 2, kit",
        "Row 2, column kit: there is no kit 'none' in the price book."
    )]
    [InlineData(
        "kit-parts",
        "kit,code,kind\nbar-plain,hoop,wood",
        "row 2, kind",
        "Row 2, column kind: 'wood' is none of: tube, plate, hardware."
    )]
    [InlineData(
        "uses",
        "code,needsRuleSet\nstreet,perhaps",
        "row 2, needsRuleSet",
        "Row 2, column needsRuleSet: 'perhaps' is neither yes nor no."
    )]
    [InlineData(
        "tax-rates",
        "tax,from,ratePercent\nt,1.1.2020,5",
        "row 2, from",
        "Row 2, column from: '1.1.2020' is no day; write it as 2026-03-02."
    )]
    [InlineData(
        "terms",
        "currencyCode\nUSD",
        "row 2, currencyCode",
        "Row 2, column currencyCode: the shop counts in EUR; this cannot be changed."
    )]
    [InlineData("terms", "validityDays\n9\n9", "row 2", "This part has one row below its heads; the file has 2.")]
    [InlineData(
        "terms",
        "validityDays\nmany",
        "row 2, validityDays",
        "Row 2, column validityDays: 'many' is no whole number."
    )]
    [InlineData("wages", "code", "part", "There is no part 'wages'")]
    public void Wrong_cell_is_refused_with_its_row_and_column(string part, string csv, string place, string sentence)
    {
        var failure = Assert.IsType<Failure.Invalid>(PriceBookCsv.Read(FullBook.Book, part, csv).Failure);

        Assert.Contains(failure.Errors, e => e.Path == place && e.Text.StartsWith(sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void File_over_the_limit_is_refused_by_its_size()
    {
        var csv = new string('x', PriceBookCsv.LargestCharacters + 1);

        Assert.IsType<Failure.TooLarge>(PriceBookCsv.Read(FullBook.Book, "skills", csv).Failure);
    }

    [Fact]
    public void Text_that_a_spreadsheet_would_run_is_guarded_in_the_file_and_free_in_the_book()
    {
        var book = FullBook.Book with { Uses = [new("street", "=HYPERLINK(\"x\")", false), new("'-a", "'+b", true)] };

        var csv = PriceBookCsv.Write(book, "uses");

        Assert.Equal("code,title,needsRuleSet\r\nstreet,\"'=HYPERLINK(\"\"x\"\")\",no\r\n''-a,''+b,yes\r\n", csv);
        Assert.True(PriceBookComparison.Between(book, PriceBookCsv.Read(book, "uses", csv).Value).IsSame);
    }
}
