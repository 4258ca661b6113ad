using CsCheck;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Common;

public sealed class CsvTextTests
{
    private const int Large = 100_000;

    /// <summary>The examples of RFC 4180, section 2, rules 1 to 7.</summary>
    [Theory]
    [InlineData("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc/zzz|yyy|xxx")]
    [InlineData("aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc/zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|bbb|ccc/zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|b\r\nbb|ccc/zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc")]
    [InlineData("\uFEFFa,b\nc,", "a|b/c|")]
    [InlineData("", "")]
    [InlineData("\r\n\r\n", "")]
    public void Published_examples_are_read(string text, string expected)
    {
        var lines = CsvText.Read(text, Large).Value;

        Assert.Equal(expected, string.Join('/', lines.Select(l => string.Join('|', l.Cells))));
    }

    [Theory]
    [InlineData("a,b\r\n\"c\r\nd\",\"e", "Line 2: a quote is opened and not closed.")]
    [InlineData(
        "\"a\r\nb\"\r\n\"c\"d",
        "Line 3: after a closing quote a comma or the end of the line is expected, not 'd'."
    )]
    public void Text_that_is_no_csv_is_refused_with_its_line(string text, string sentence)
    {
        Assert.Equal(sentence, CsvText.Read(text, Large).Failure!.Sentence);
    }

    [Fact]
    public void What_is_written_is_read_again()
    {
        var cell = Texts(["", "a", ",", "\"", "\r", "\n", "\r\n", "=1", "x,y", "é"]);
        // A last line of one empty cell cannot be told from the end of the file; one of two cells can.
        cell.Array[2, 5]
            .Array[1, 6]
            .Sample(lines =>
            {
                var again = CsvText.Read(CsvText.Write(lines), Large).Value;
                Assert.Equal(lines.Length, again.Count);
                Assert.All(lines.Zip(again), pair => Assert.Equal(pair.First, pair.Second.Cells));
            });
    }

    [Fact]
    public void Guard_goes_before_what_a_spreadsheet_would_run_and_comes_off_again()
    {
        Texts(["=", "+", "-", "@", "\t", "\r", "'", "a", " "])
            .Sample(text =>
            {
                var guarded = CsvText.Guard(text);
                Assert.Equal(text, CsvText.Unguard(guarded));
                Assert.False(guarded.Length > 0 && "=+-@\t\r".Contains(guarded[0], StringComparison.Ordinal));
            });
    }

    /// <summary>Up to five of the pieces, one after another.</summary>
    private static Gen<string> Texts(string[] pieces) =>
        Gen.Int[0, pieces.Length - 1].Array[0, 5].Select(chosen => string.Concat(chosen.Select(i => pieces[i])));
}
