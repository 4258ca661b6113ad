using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Labour by phase and skill: hours at the shop's confidence × the skill's rate.</summary>
internal static class LabourLines
{
    internal static void Write(BookIndex index, LabourEstimate labour, List<DraftLine> lines) =>
        lines.AddRange(
            Groups(labour.Items)
                .Select(g => Line(index, labour, index.Skills[g[0].Work.Skill], g[0].Work.Phase, g))
                .Where(l => l.Quantity > 0)
        );

    /// <summary>The work of one skill in one phase together, phases in their order.</summary>
    private static List<List<WorkHours>> Groups(IReadOnlyList<WorkHours> items)
    {
        var groups = new List<List<WorkHours>>();
        foreach (var item in items)
        {
            var group = groups.Find(g => g[0].Work.Phase == item.Work.Phase && g[0].Work.Skill == item.Work.Skill);
            if (group is null)
            {
                groups.Add(group = []);
            }

            group.Add(item);
        }

        groups.Sort(
            (a, b) =>
                a[0].Work.Phase != b[0].Work.Phase
                    ? a[0].Work.Phase.CompareTo(b[0].Work.Phase)
                    : string.CompareOrdinal(a[0].Work.Skill, b[0].Work.Skill)
        );
        return groups;
    }

    private static DraftLine Line(
        BookIndex index,
        LabourEstimate labour,
        SkillRate skill,
        Phase phase,
        List<WorkHours> items
    )
    {
        var mean = WorkHours.MeanHours(items);
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
                new("Rate", index.RateTexts[skill.Code]),
            ],
            Parts(index, labour, mean, hours, items),
            mean * skill.CostMinorPerHour
        );
    }

    private static Explanation[] Parts(
        BookIndex index,
        LabourEstimate labour,
        decimal mean,
        decimal hours,
        List<WorkHours> items
    )
    {
        var parts = new Explanation[items.Count + 1];
        parts[0] = ConfidencePart(index, labour, mean, hours);
        for (var i = 0; i < items.Count; i++)
        {
            parts[i + 1] = WorkExplanation.Of(index, items[i]);
        }

        return parts;
    }

    private static Explanation ConfidencePart(BookIndex index, LabourEstimate labour, decimal mean, decimal hours) =>
        new(
            labour.ConfidenceRule,
            [.. labour.WholeCarInputs, index.SpreadInput, new("Expected here", Figures.Hours(mean))],
            index.EstimateSource,
            Figures.Hours(hours),
            []
        );
}
