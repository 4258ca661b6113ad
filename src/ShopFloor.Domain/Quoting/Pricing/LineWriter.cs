using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A line before the money of the whole is known.</summary>
internal sealed record DraftLine(
    string Code,
    LineGroup Group,
    Phase? Phase,
    string Description,
    decimal Quantity,
    string Unit,
    long UnitPriceMinor,
    IReadOnlyList<string> TaxCodes,
    string Rule,
    string Source,
    IReadOnlyList<ExplanationInput> Inputs,
    IReadOnlyList<Explanation> Parts
)
{
    public TotalsLine ToTotalsLine(bool isTaxExempt) =>
        new(Description, Quantity, UnitPriceMinor, isTaxExempt ? [] : TaxCodes);

    public PricedLine ToLine(TotalsLineResult money, Currency currency, bool isTaxExempt) =>
        new(
            Code,
            Group,
            Phase,
            Description,
            Quantity,
            Unit,
            UnitPriceMinor,
            money.NetMinor,
            money.DiscountMinor,
            money.TaxableMinor,
            isTaxExempt ? [] : TaxCodes,
            new Explanation(
                Rule,
                Inputs,
                Source,
                new Money(money.NetMinor, currency).ToString(CultureInfo.InvariantCulture),
                Parts
            )
        );
}

/// <summary>Writes the lines of a quote in the order in which a customer reads them: kit, doors, labour by phase, material.</summary>
internal static class LineWriter
{
    internal static List<DraftLine> Write(PriceBook book, PriceInput input, LabourEstimate labour)
    {
        var lines = new List<DraftLine> { KitLine(book, book.FindKit(input.Scope.KitCode)!) };
        lines.AddRange(input.Scope.Doors.OrderBy(d => d.Door).Select(d => DoorLine(book, d)));
        lines.AddRange(
            labour
                .Items.GroupBy(i => (i.Work.Phase, i.Work.Skill))
                .OrderBy(g => g.Key.Phase)
                .ThenBy(g => g.Key.Skill, StringComparer.Ordinal)
                .Select(g => LabourLine(book, labour, book.FindSkill(g.Key.Skill)!, g.Key.Phase, [.. g]))
                .Where(l => l.Quantity > 0)
        );
        lines.AddRange(
            book.Materials.OrderBy(m => m.Group).Select(m => MaterialLine(book, input, m)).Where(l => l.Quantity > 0)
        );
        if (book.Freight is { } freight)
        {
            lines.Add(Single(book, "freight", LineGroup.Freight, freight.Title, freight.PriceMinor, freight.TaxCodes));
        }

        return lines;
    }

    private static DraftLine KitLine(PriceBook book, Kit kit) =>
        Single(book, "kit", LineGroup.Kit, kit.Title, kit.PriceMinor, kit.TaxCodes) with
        {
            Rule = "The kit at its price in the price book: " + string.Join("; ", kit.Contents) + ".",
        };

    private static DraftLine DoorLine(PriceBook book, DoorChoice choice)
    {
        var hinge = book.FindHinge(choice.HingeOptionCode)!;
        var side = choice.Door == DoorSide.Left ? "Left" : "Right";
        return Single(
            book,
            "door:" + side.ToUpperInvariant()[..1],
            LineGroup.Doors,
            $"{side} door bar: {hinge.Title}",
            hinge.PriceMinor,
            hinge.TaxCodes
        ) with
        {
            Rule =
                "The hinge option chosen for this door at its price in the price book. Its labour stands under the phases.",
        };
    }

    private static DraftLine Single(
        PriceBook book,
        string code,
        LineGroup group,
        string title,
        long priceMinor,
        IReadOnlyList<string> taxCodes
    ) =>
        new(
            code,
            group,
            null,
            title,
            1,
            "piece",
            priceMinor,
            taxCodes,
            "One piece at its price in the price book.",
            book.Source,
            [new("Quantity", "1 piece"), new("Price", Money(book, priceMinor))],
            []
        );

    private static DraftLine LabourLine(
        PriceBook book,
        LabourEstimate labour,
        SkillRate skill,
        Phase phase,
        IReadOnlyList<WorkHours> items
    )
    {
        var mean = items.Sum(i => i.MeanHours);
        var hours = decimal.Round(mean * labour.Scale, 2, MidpointRounding.AwayFromZero);
        return new DraftLine(
            $"labour:{phase}:{skill.Code}",
            LineGroup.Labour,
            phase,
            $"{phase.Title()}: {skill.Title}",
            hours,
            "h",
            skill.RateMinorPerHour,
            skill.TaxCodes,
            "Hours of this skill in this phase × its hourly rate.",
            book.Source,
            [
                new("Expected hours", Hours(mean)),
                new("Hours at the shop's confidence", Hours(hours)),
                new("Rate", Money(book, skill.RateMinorPerHour) + " per hour"),
            ],
            [ConfidencePart(book, labour, mean, hours), .. items.Select(i => WorkExplanation.Of(book, i))]
        );
    }

    private static Explanation ConfidencePart(PriceBook book, LabourEstimate labour, decimal mean, decimal hours) =>
        new(
            $"The whole car's hours are raised from the expected ones to those not exceeded in {labour.Hours.ConfidencePercent} of 100 cars; each phase by the same factor.",
            [
                new("Whole car, expected", Hours(labour.Hours.P50)),
                new("Whole car, priced", Hours(labour.Hours.Priced)),
                new("Factor", labour.Scale.ToString("0.####", CultureInfo.InvariantCulture)),
                new(
                    "Whole-car spread",
                    (book.WholeCarSpread * 100).ToString("0.##", CultureInfo.InvariantCulture) + " %"
                ),
                new("Expected here", Hours(mean)),
            ],
            "Three-point estimate (low + 4 × likely + high) ÷ 6; " + book.Source,
            Hours(hours),
            []
        );

    private static DraftLine MaterialLine(PriceBook book, PriceInput input, Material material)
    {
        var work = input.Content.Where(w => material.StandardCodes.Contains(w.StandardCode)).ToList();
        var content = work.Sum(w => w.Quantity);
        var quantity = decimal.Round(content / material.ContentPerUnit, 2, MidpointRounding.AwayFromZero);
        return new DraftLine(
            "material:" + material.Code,
            material.Group == MaterialGroup.Paint ? LineGroup.Paint : LineGroup.Consumables,
            null,
            material.Title,
            quantity,
            material.Unit,
            material.PriceMinor,
            material.TaxCodes,
            "Charged by the work content it goes with.",
            book.Source,
            [
                new("Quantity", $"{WorkExplanation.Plain(quantity)} {material.Unit}"),
                new("Price", $"{Money(book, material.PriceMinor)} per {material.Unit}"),
            ],
            [
                .. work.Select(w => new Explanation(
                    $"Operation {w.OperationCode}, {w.OperationTitle}",
                    [new("Counts", book.FindStandard(w.StandardCode)!.Title)],
                    "Route template",
                    $"{WorkExplanation.Plain(w.Quantity)} {book.FindStandard(w.StandardCode)!.Unit}",
                    []
                )),
            ]
        );
    }

    private static string Money(PriceBook book, long minor) =>
        new Money(minor, book.Currency).ToString(CultureInfo.InvariantCulture);

    private static string Hours(decimal hours) => WorkExplanation.Plain(decimal.Round(hours, 2)) + " h";
}
