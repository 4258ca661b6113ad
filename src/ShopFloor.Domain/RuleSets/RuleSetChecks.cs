using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>What a rule-set document must hold before anything is measured against it; the published schema says the same where a schema can.</summary>
internal static partial class RuleSetChecks
{
    public static void Check(RuleSetDocument document, FieldErrors errors)
    {
        errors
            .AddIf(
                document.Schema != RuleSet.CurrentSchema,
                "schema",
                $"Layout {document.Schema} is not known; this program reads layout {RuleSet.CurrentSchema}."
            )
            .AddIf(
                document.Version is < 1 or > RuleSet.HighestVersion,
                "version",
                $"The version is a number from 1 to {RuleSet.HighestVersion}."
            )
            .AddIf(
                document.DateRead < new DateOnly(1990, 1, 1),
                "dateRead",
                "Say on which day the figures were read, in 1990 or later."
            )
            .AddIf(
                document.CopyOfVersion is < 1 or > RuleSet.HighestVersion
                    || document.CopyOf is null != document.CopyOfVersion is null,
                "copyOfVersion",
                "A copy names the code and the version it was copied from; an original names neither."
            );
        Code(document.Code, "code", "The code", errors);
        if (document.CopyOf is not null)
        {
            Code(document.CopyOf, "copyOf", "The code of the original", errors);
        }

        TextRules.Required(document.Publisher, "publisher", "The publisher", TextRules.ShortText, errors);
        TextRules.Required(document.Title, "title", "The title", TextRules.ShortText, errors);
        TextRules.Required(document.Edition, "edition", "The edition", TextRules.ShortText, errors);
        TextRules.Required(document.Caution, "caution", "A caution", TextRules.Note, errors);
        var figures = document.Figures ?? [];
        errors.AddIf(
            figures.Count is < 1 or > RuleSet.MostFigures,
            "figures",
            $"A rule set holds 1 to {RuleSet.MostFigures} figures."
        );
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Math.Min(figures.Count, RuleSet.MostFigures); i++)
        {
            var path = $"figures[{i}]";
            if (figures[i] is not { } figure)
            {
                errors.Add(path, $"Figure {i + 1} is empty.");
                continue;
            }

            Check(figure, path + ".", errors);
            errors.AddIf(
                !seen.Add(figure.Code ?? ""),
                path + ".code",
                $"The code {figure.Code} turns up twice; each figure needs its own."
            );
        }
    }

    private static void Check(RuleFigure figure, string path, FieldErrors errors)
    {
        Code(figure.Code, path + "code", "The figure's code", errors);
        TextRules.Required(figure.What, path + "what", "What the figure limits", TextRules.ShortText, errors);
        TextRules.Required(figure.Printed, path + "printed", "The figure as printed", TextRules.ShortText, errors);
        TextRules.Optional(figure.Caution, path + "caution", "The caution", TextRules.ShortText, errors);
        TextRules.Optional(figure.Clause, path + "clause", "The clause", TextRules.Name, errors);
        errors.AddIf(
            figure.Mark != FigureMark.CommonPractice && string.IsNullOrWhiteSpace(figure.Clause),
            path + "clause",
            "The clause (only common practice may leave it out) is needed."
        );
        Limits(figure, path, errors);
        Sizes(figure, path, errors);
    }

    private static void Limits(RuleFigure figure, string path, FieldErrors errors)
    {
        TextRules.Optional(figure.Unit, path + "unit", "The unit", RuleSet.LongestUnit, errors);
        errors
            .AddIf(
                (figure.Lower ?? figure.Upper) is not null && string.IsNullOrWhiteSpace(figure.Unit),
                path + "unit",
                "A limit needs its unit."
            )
            .AddIf(
                figure.Lower > figure.Upper,
                path + "lower",
                $"The lower limit {figure.Lower} lies above the upper limit {figure.Upper}."
            )
            .AddIf(
                (figure.Lower ?? figure.Upper) is not null && figure.Kind == FigureKind.YesNo,
                path + "lower",
                "A figure answered by yes or no has no limits."
            );
        foreach (var (name, limit) in new[] { ("lower", figure.Lower), ("upper", figure.Upper) })
        {
            errors.AddIf(
                limit is < -RuleSet.LargestFigure or > RuleSet.LargestFigure,
                path + name,
                $"A limit lies between -{RuleSet.LargestFigure} and {RuleSet.LargestFigure}."
            );
        }
    }

    private static void Sizes(RuleFigure figure, string path, FieldErrors errors)
    {
        var sizes = figure.Sizes ?? [];
        errors
            .AddIf(
                figure.Kind == FigureKind.SizeAlternatives && sizes.Count == 0,
                path + "sizes",
                "Sizes to choose from are missing."
            )
            .AddIf(
                figure.Kind != FigureKind.SizeAlternatives && sizes.Count > 0,
                path + "sizes",
                "Only a figure of the kind sizeAlternatives has sizes."
            )
            .AddIf(
                sizes.Count > RuleSet.MostSizes,
                path + "sizes",
                $"At most {RuleSet.MostSizes} sizes stand beside each other."
            );
        for (var i = 0; i < Math.Min(sizes.Count, RuleSet.MostSizes); i++)
        {
            if (sizes[i] is not { } size)
            {
                errors.Add($"{path}sizes[{i}]", "A tube size is empty.");
                continue;
            }

            errors
                .AddIf(size.Unit is not ("mm" or "in"), $"{path}sizes[{i}].unit", "A tube size is in mm or in.")
                .AddIf(
                    size.Diameter is <= 0 or > RuleSet.LargestFigure
                        || size.Wall <= 0
                        || size.Wall * 2 >= size.Diameter,
                    $"{path}sizes[{i}]",
                    $"{size.Diameter} × {size.Wall} is no tube: the wall is over 0 and under half the diameter."
                );
        }
    }

    /// <summary>Codes stand in addresses and, as set/figure, in inspection plans.</summary>
    private static void Code(string? code, string path, string label, FieldErrors errors) =>
        errors.AddIf(
            TextRules.Required(code, path, label, TextRules.Code, errors) is { Length: > 0 } && !Codes().IsMatch(code!),
            path,
            $"{label} is made of small letters, digits and hyphens, and begins with a letter or digit."
        );

    [GeneratedRegex(@"^[a-z0-9][a-z0-9-]*\z", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Codes();
}
