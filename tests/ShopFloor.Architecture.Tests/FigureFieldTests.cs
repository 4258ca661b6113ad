using System.Runtime.CompilerServices;

namespace ShopFloor.Architecture.Tests;

/// <summary>A figure that people type is read by one grammar, and never guessed: browsers and number controls drop signs that they do not know, so that 5,5 becomes 55.</summary>
public sealed class FigureFieldTests
{
    [Fact]
    public void No_page_reads_figures_past_the_typed_fields()
    {
        var pages = Directory.GetFiles(
            Path.Combine(Root(), "src", "ShopFloor.Web"),
            "*.razor",
            SearchOption.AllDirectories
        );
        Assert.True(pages.Length > 100);

        Assert.DoesNotContain(
            pages,
            page =>
                File.ReadAllText(page) is var text
                && (
                    text.Contains("MudNumericField", StringComparison.Ordinal)
                    || text.Contains("type=\"number\"", StringComparison.Ordinal)
                )
        );
    }

    private static string Root([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}
