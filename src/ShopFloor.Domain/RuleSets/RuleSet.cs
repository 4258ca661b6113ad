using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>A rule set as its data file holds it, before it was checked.</summary>
/// <param name="Schema">Number of the file's layout; 1.</param>
/// <param name="Code">E.g. <c>house-street</c>.</param>
/// <param name="Version">Goes up by one when figures of the same code change; a job keeps the version it was built to.</param>
/// <param name="Publisher">The body that publishes the book; the shop itself for house rules.</param>
/// <param name="Title">The book's name.</param>
/// <param name="Edition">Year, number or date of the edition the figures come from.</param>
/// <param name="DateRead">Day on which the figures were taken down.</param>
/// <param name="Caution">A short warning shown with every figure of the set.</param>
/// <param name="Figures">1 to 200.</param>
/// <param name="CopyOf">Code of the rule set that this one was copied from: the same figures' codes mean the same; null for an original.</param>
/// <param name="CopyOfVersion">Its version at that time.</param>
public sealed record RuleSetDocument(
    int Schema,
    string Code,
    int Version,
    string Publisher,
    string Title,
    string Edition,
    DateOnly DateRead,
    string Caution,
    IReadOnlyList<RuleFigure> Figures,
    string? CopyOf = null,
    int? CopyOfVersion = null
);

/// <summary>Published figures of one rule book (or the shop's house rules), checked for completeness. It helps to look; it never decides: the current book and the scrutineer do.</summary>
public sealed class RuleSet
{
    public const int CurrentSchema = 1;
    public const int MostFigures = 200;
    public const int MostSizes = 20;
    public const int HighestVersion = 100_000;
    public const int LongestUnit = 40;

    /// <summary>No figure of a rule book is larger, nor lower than minus this.</summary>
    public const decimal LargestFigure = 1_000_000;

    /// <summary>The sentence every screen and paper with such a figure carries.</summary>
    public const string Advice =
        "Check the current rule book before you build; the scrutineer decides, and this program never certifies a car.";

    private readonly Dictionary<string, RuleFigure> figures;

    private RuleSet(RuleSetDocument document)
    {
        Document = document;
        figures = document.Figures.ToDictionary(f => f.Code, StringComparer.Ordinal);
    }

    public RuleSetDocument Document { get; }

    public string Code => Document.Code;

    public int Version => Document.Version;

    public string Title => Document.Title;

    /// <summary>Publisher, title, edition: how papers name it.</summary>
    public string Citation => $"{Document.Publisher}, {Document.Title}, {Document.Edition}";

    public IReadOnlyList<RuleFigure> Figures => Document.Figures;

    /// <summary>True where a plan that names figures of a rule set means this one: it is that set, or a copy of it.</summary>
    public bool StandsFor(string code) => Code == code || Document.CopyOf == code;

    public RuleFigure? Find(string figureCode) => figures.GetValueOrDefault(figureCode);

    /// <summary>Checks a document; every problem becomes a sentence with the field's path.</summary>
    public static Outcome<RuleSet> From(RuleSetDocument document)
    {
        var errors = new FieldErrors();
        RuleSetChecks.Check(document, errors);
        return errors.Any ? errors.ToFailure() : new RuleSet(document);
    }
}
