using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>What a rule-set document must hold before anything is measured against it.</summary>
internal static class RuleSetChecks
{
    public static void Check(RuleSetDocument document, FieldErrors errors)
    {
        errors
            .AddIf(
                document.Schema != RuleSet.CurrentSchema,
                "schema",
                $"Layout {document.Schema} is not known; this program reads layout {RuleSet.CurrentSchema}."
            )
            .AddIf(document.Version is < 1 or > 100_000, "version", "The version is a number from 1 to 100000.")
            .AddIf(
                document.DateRead < new DateOnly(1990, 1, 1),
                "dateRead",
                "Say on which day the figures were read, in 1990 or later."
            );
        TextRules.Required(document.Code, "code", "The code", TextRules.Code, errors);
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
            var path = $"figures[{i}].";
            Check(figures[i], path, errors);
            errors.AddIf(
                !seen.Add(figures[i].Code ?? ""),
                path + "code",
                $"The code {figures[i].Code} turns up twice; each figure needs its own."
            );
        }
    }

    private static void Check(RuleFigure figure, string path, FieldErrors errors)
    {
        TextRules.Required(figure.Code, path + "code", "The figure's code", TextRules.Code, errors);
        TextRules.Required(figure.What, path + "what", "What the figure limits", TextRules.ShortText, errors);
        TextRules.Required(figure.Printed, path + "printed", "The figure as printed", TextRules.ShortText, errors);
        TextRules.Optional(figure.Caution, path + "caution", "The caution", TextRules.ShortText, errors);
        if (figure.Mark != FigureMark.CommonPractice)
        {
            TextRules.Required(
                figure.Clause,
                path + "clause",
                "The clause (only common practice may leave it out)",
                TextRules.Name,
                errors
            );
        }

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
                figure.Kind == FigureKind.SizeAlternatives && figure.Sizes is not { Count: > 0 },
                path + "sizes",
                "Sizes to choose from are missing."
            );
        for (var i = 0; i < (figure.Sizes?.Count ?? 0); i++)
        {
            var size = figure.Sizes![i];
            errors
                .AddIf(size.Unit is not ("mm" or "in"), $"{path}sizes[{i}].unit", "A tube size is in mm or in.")
                .AddIf(
                    size.Diameter <= 0 || size.Wall <= 0 || size.Wall * 2 >= size.Diameter,
                    $"{path}sizes[{i}]",
                    $"{size.Diameter} × {size.Wall} is no tube: the wall is over 0 and under half the diameter."
                );
        }
    }
}
