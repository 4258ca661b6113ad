using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>The owner's week on paper, read back by another library.</summary>
public sealed class WeekPaperTests
{
    [Fact]
    public void A_full_week_stands_on_two_pages_with_every_figure_row_and_sentence_on_both_sheets()
    {
        var week = WeekSamples.Full();
        foreach (var settings in (PaperSettings[])[Samples.A4, Samples.Letter])
        {
            using var paper = new ReadBack(new PdfPapers().Week(week, settings));
            Assert.Equal(2, paper.PageCount);
            Assert.All(
                week.Groups.SelectMany(g => g.Figures),
                f => Assert.Contains($"{f.Name} {f.Value}", paper.Text, StringComparison.Ordinal)
            );
            Assert.All(
                week.Tables.SelectMany(t => t.Rows),
                r => Assert.Contains(string.Join(' ', r), paper.Text, StringComparison.Ordinal)
            );
            Assert.All(
                week.Groups.SelectMany(g => g.Figures)
                    .Select(f => f.Note)
                    .OfType<string>()
                    .Concat(week.Ties)
                    .Concat(week.Tables.Select(t => t.Title))
                    .Append(week.InWords)
                    .Append(week.Days),
                words => Assert.Contains(words, paper.Text, StringComparison.Ordinal)
            );
        }
    }

    [Fact]
    public void An_empty_week_is_one_page()
    {
        var week = WeekSamples.Full() with { Tables = [], Ties = [] };
        using var paper = new ReadBack(new PdfPapers().Week(week, Samples.A4));
        Assert.Equal(1, paper.PageCount);
    }
}
