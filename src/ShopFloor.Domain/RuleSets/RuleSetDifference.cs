using System.Globalization;

namespace ShopFloor.Domain.RuleSets;

public enum FigureChangeKind
{
    Added,
    Removed,
    Changed,
}

/// <summary>One value that differs; null where there is none.</summary>
/// <param name="Field">In words, e.g. <c>figure as printed</c>.</param>
public sealed record ValueChange(string Field, string? Before, string? After)
{
    public string Sentence =>
        (Before, After) switch
        {
            (null, _) => $"{Field} added: {After}",
            (_, null) => $"{Field} taken out: {Before}",
            _ => $"{Field}: {Before} → {After}",
        };
}

/// <summary>A figure that came, went or changed.</summary>
/// <param name="Code">Of the figure.</param>
/// <param name="What">What it limits, in the newer words.</param>
/// <param name="Values">Value by value; of a figure that came or went all its values.</param>
public sealed record FigureChange(FigureChangeKind Kind, string Code, string What, IReadOnlyList<ValueChange> Values)
{
    public string Sentence =>
        Kind switch
        {
            FigureChangeKind.Added => $"Added: {What}, {Printed(v => v.After)}.",
            FigureChangeKind.Removed => $"Taken out: {What}, {Printed(v => v.Before)}.",
            _ => $"Changed: {What} ({string.Join("; ", Values.Select(v => v.Sentence))}).",
        };

    private string? Printed(Func<ValueChange, string?> side) =>
        Values.Where(v => v.Field == RuleSetDifference.Printed).Select(side).FirstOrDefault();
}

/// <summary>What differs between two rule sets or two versions of one: what the set says of itself, and its figures, told apart by their codes.</summary>
public sealed record RuleSetDifference(IReadOnlyList<ValueChange> About, IReadOnlyList<FigureChange> Figures)
{
    internal const string Printed = "figure as printed";

    public bool IsNone => About.Count == 0 && Figures.Count == 0;

    /// <summary>One for each change.</summary>
    public IReadOnlyList<string> Sentences =>
        [
            .. About.Select(a => $"{char.ToUpperInvariant(a.Sentence[0])}{a.Sentence[1..].TrimEnd('.')}."),
            .. Figures.Select(f => f.Sentence),
        ];

    public static RuleSetDifference Between(RuleSet before, RuleSet after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return new RuleSetDifference(
            [.. Differing(SaidOf(before.Document), SaidOf(after.Document))],
            [
                .. before
                    .Figures.Where(f => after.Find(f.Code) is null)
                    .Select(f => Of(FigureChangeKind.Removed, f, null)),
                .. after
                    .Figures.Select(f => Of(before.Find(f.Code), f))
                    .Where(c => c.Kind != FigureChangeKind.Changed || c.Values.Count > 0),
            ]
        );
    }

    private static FigureChange Of(RuleFigure? before, RuleFigure after) =>
        Of(before is null ? FigureChangeKind.Added : FigureChangeKind.Changed, before, after);

    private static FigureChange Of(FigureChangeKind kind, RuleFigure? before, RuleFigure? after) =>
        new(
            kind,
            (after ?? before)!.Code,
            (after ?? before)!.What,
            [.. Differing(before is null ? [] : SaidOf(before), after is null ? [] : SaidOf(after))]
        );

    /// <summary>Publisher, title and so on; the version is what is compared, and no difference itself.</summary>
    private static Dictionary<string, string> SaidOf(RuleSetDocument d) =>
        Said(
            ("publisher", d.Publisher),
            ("title", d.Title),
            ("edition", d.Edition),
            ("figures read on", d.DateRead.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            ("caution", d.Caution)
        );

    private static Dictionary<string, string> SaidOf(RuleFigure f) =>
        Said(
            ("what it limits", f.What),
            (Printed, f.Printed),
            ("clause", f.Clause),
            ("how we know it", f.Mark.Words()),
            ("kind", f.Kind.Words()),
            ("least", Limit(f.Lower, f.Unit)),
            ("greatest", Limit(f.Upper, f.Unit)),
            ("sizes", f.Sizes is null ? null : string.Join(", ", f.Sizes.Select(s => s.Words()))),
            ("caution", f.Caution)
        );

    private static string? Limit(decimal? value, string? unit) =>
        value is { } known ? string.Create(CultureInfo.InvariantCulture, $"{known:0.######} {unit}") : null;

    private static Dictionary<string, string> Said(params (string Field, string? Text)[] values) =>
        values.Where(v => !string.IsNullOrEmpty(v.Text)).ToDictionary(v => v.Field, v => v.Text!);

    private static IEnumerable<ValueChange> Differing(
        Dictionary<string, string> before,
        Dictionary<string, string> after
    ) =>
        before
            .Keys.Union(after.Keys)
            .Select(field => new ValueChange(field, before.GetValueOrDefault(field), after.GetValueOrDefault(field)))
            .Where(c => c.Before != c.After);
}
