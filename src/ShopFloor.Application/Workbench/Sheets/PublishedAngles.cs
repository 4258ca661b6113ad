using System.Globalization;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Figures of the shipped rule sets against which a measured angle is held.</summary>
internal static class PublishedAngles
{
    private static readonly RuleSetLibrary Books = new();

    /// <summary>Each figure with whether the angle meets it, its source and how surely it is known.</summary>
    /// <param name="figures">Rule set and figure, by their codes; each with limits in degrees.</param>
    public static IEnumerable<BenchResult> Held(
        IEnumerable<(string Book, string Figure)> figures,
        double degrees,
        IReadOnlyList<ExplanationInput> inputs
    ) => figures.Select(f => Held(Books.Find(f.Book)!, f.Figure, degrees, inputs));

    private static BenchResult Held(RuleSet book, string code, double degrees, IReadOnlyList<ExplanationInput> inputs)
    {
        var figure = book.Find(code)!;
        var isMet =
            (figure.Lower is not { } lower || degrees >= (double)lower)
            && (figure.Upper is not { } upper || degrees <= (double)upper);
        var said = isMet ? "✓ met" : "✗ not met";
        var read = book.Document.DateRead.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return new(
            $"{figure.What}: {figure.Printed}",
            said,
            new Explanation(
                "the angle held against the printed figure. " + RuleSet.Advice,
                inputs,
                $"{book.Citation}, {figure.Clause} ({figure.Mark.Words()}, {read}). {book.Document.Caution}",
                said,
                []
            )
        );
    }
}
