using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Labour by phase and skill: hours at the shop's confidence × the skill's rate.</summary>
internal static class LabourLines
{
    internal static void Write(BookIndex index, LabourEstimate labour, List<DraftLine> lines) =>
        lines.AddRange(
            labour
                .Items.GroupBy(i => (i.Work.Phase, i.Work.Skill))
                .OrderBy(g => g.Key.Phase)
                .ThenBy(g => g.Key.Skill, StringComparer.Ordinal)
                .Select(g => Line(index, labour, index.Skills[g.Key.Skill], g.Key.Phase, [.. g]))
                .Where(l => l.Quantity > 0)
        );

    private static DraftLine Line(
        BookIndex index,
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
            index.Source,
            [
                new("Expected hours", Figures.Hours(mean)),
                new("Hours at the shop's confidence", Figures.Hours(hours)),
                new("Rate", Figures.Money(index.Book, skill.RateMinorPerHour) + " per hour"),
            ],
            [ConfidencePart(index, labour, mean, hours), .. items.Select(i => WorkExplanation.Of(index, i))],
            mean * skill.CostMinorPerHour
        );
    }

    private static Explanation ConfidencePart(BookIndex index, LabourEstimate labour, decimal mean, decimal hours) =>
        new(
            $"The whole car's hours are raised from the expected ones to those not exceeded in {labour.Hours.ConfidencePercent} of 100 cars; each phase by the same factor.",
            [
                new("Whole car, expected", Figures.Hours(labour.Hours.P50)),
                new("Whole car, priced", Figures.Hours(labour.Hours.Priced)),
                new("Factor", labour.Scale.ToString("0.####", CultureInfo.InvariantCulture)),
                new(
                    "Whole-car spread",
                    (index.Book.WholeCarSpread * 100).ToString("0.##", CultureInfo.InvariantCulture) + " %"
                ),
                new("Expected here", Figures.Hours(mean)),
            ],
            "Three-point estimate (low + 4 × likely + high) ÷ 6; " + index.Source,
            Figures.Hours(hours),
            []
        );
}
