using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What a plan must hold before a job is opened with it.</summary>
internal static class InspectionPlanChecks
{
    private const int MostNamed = 40;

    public static void Check(InspectionPlanDocument document, FieldErrors errors)
    {
        errors
            .AddIf(
                document.Schema != InspectionPlan.CurrentSchema,
                "schema",
                $"Layout {document.Schema} is not known; this program reads layout {InspectionPlan.CurrentSchema}."
            )
            .AddIf(document.Version is < 1 or > 100_000, "version", "The version is a number from 1 to 100000.")
            .AddIf(document.Kits.Count == 0, "kits", "Say for which kits the plan is.")
            .AddIf(
                document.Lines.Count is < 1 or > InspectionPlan.MostLines,
                "lines",
                $"A plan holds 1 to {InspectionPlan.MostLines} lines."
            );
        TextRules.Required(document.Code, "code", "The code", TextRules.Code, errors);
        TextRules.Required(document.Title, "title", "The title", TextRules.ShortText, errors);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Math.Min(document.Lines.Count, InspectionPlan.MostLines); i++)
        {
            var line = document.Lines[i];
            Check(line, $"lines[{i}].", errors);
            errors.AddIf(!seen.Add(line.Code), $"lines[{i}].code", $"The code {line.Code} turns up twice.");
        }
    }

    internal static void Check(PlannedLine line, string path, FieldErrors errors)
    {
        TextRules.Required(line.Code, path + "code", "The line's code", TextRules.Code - 6, errors);
        TextRules.Required(line.Operation, path + "operation", "The operation", 8, errors);
        TextRules.Required(line.What, path + "what", "What is checked", TextRules.ShortText, errors);
        TextRules.Required(line.How, path + "how", "How it is checked", TextRules.ShortText, errors);
        TextRules.Required(line.Source, path + "source", "The source of the limit", TextRules.ShortText, errors);
        TextRules.Optional(line.Unit, path + "unit", "The unit", InspectionLine.LongestUnit, errors);
        TextRules.Optional(line.Caution, path + "caution", "The caution", TextRules.ShortText, errors);
        var hasNumber = (line.Nominal ?? line.Lower ?? line.Upper) is not null;
        errors
            .AddIf(line.Unit is null && hasNumber, path + "unit", "A limit needs its unit.")
            .AddIf(
                line.Unit is not null && line.Ordered is null && (line.Lower ?? line.Upper) is null,
                path + "lower",
                "A measured line needs a lower or an upper limit."
            )
            .AddIf(line.Lower > line.Upper, path + "lower", $"{line.Lower} lies above the upper limit {line.Upper}.")
            .AddIf(
                new[] { line.Nominal, line.Lower, line.Upper }.Any(v => Math.Abs(v ?? 0) > InspectionLine.LargestValue),
                path + "upper",
                $"Limits lie within ±{InspectionLine.Text(InspectionLine.LargestValue)}."
            )
            .AddIf(
                line.Nominal < line.Lower || line.Nominal > line.Upper,
                path + "nominal",
                $"The nominal value {line.Nominal} lies outside its own limits."
            )
            .AddIf(
                line.Pair is { } pair
                    && (
                        line.Unit is null
                        || pair is not [{ Length: > 0 and <= TextRules.Name }, { Length: > 0 and <= TextRules.Name }]
                    ),
                path + "pair",
                "A pair is a measured line with the names of its two values."
            )
            .AddIf(
                line.HingeOptions is not null && !line.PerDoor,
                path + "hingeOptions",
                "Only a line for each door can ask for a hinge option."
            );
        errors
            .AddIf(
                Lists(line).Any(l => l is { Count: 0 or > MostNamed }),
                path + "code",
                $"Each list of {line.Code} names 1 to {MostNamed} codes, or is left out."
            )
            .AddIf(
                Lists(line).Any(l => l?.Any(c => c is not { Length: > 0 and <= 2 * TextRules.Code }) == true),
                path + "code",
                $"A list of {line.Code} has an empty or overlong entry."
            )
            .AddIf(
                line.HiddenBy?.Contains(line.Operation) == true,
                path + "hiddenBy",
                $"{line.Operation} cannot hide what is looked at during it: name later operations."
            );
        CheckOrdered(line, path, errors);
        errors.AddIf(
            line.CustomerMayAttend && line.Point != InspectionPoint.Witness,
            path + "customerMayAttend",
            "Only a witness point can be attended by the customer."
        );
        for (var i = 0; i < (line.Figures?.Count ?? 0); i++)
        {
            errors.AddIf(
                line.Figures![i].Split('/') is not [{ Length: > 0 }, { Length: > 0 }],
                $"{path}figures[{i}]",
                $"{line.Figures[i]} does not name a figure as set/figure."
            );
        }
    }

    private static void CheckOrdered(PlannedLine line, string path, FieldErrors errors)
    {
        if (line.Ordered is not { } ordered)
        {
            return;
        }

        TextRules.Required(ordered.Part, path + "ordered.part", "The kit's part", TextRules.Code, errors);
        errors
            .AddIf(
                line.Unit != "mm" || (line.Nominal ?? line.Lower ?? line.Upper) is not null || line.Pair is not null,
                path + "ordered",
                "A line that goes by the ordered tube is one value in mm and has no limits of its own."
            )
            .AddIf(
                ordered.Under is < 0 or > OrderedLimit.MostMm || ordered.Over is < 0 or > OrderedLimit.MostMm,
                path + "ordered.under",
                $"The ordered size may be missed by 0 to {OrderedLimit.MostMm} mm."
            );
    }

    private static IReadOnlyList<string>?[] Lists(PlannedLine line) =>
        [line.Kits, line.HingeOptions, line.Uses, line.Figures, line.HiddenBy];
}
