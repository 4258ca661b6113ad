using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Labour by phase and skill: hours at the shop's confidence × the skill's rate.</summary>
internal static class LabourLines
{
    internal static void Write(BookIndex index, LabourEstimate labour, List<DraftLine> lines)
    {
        foreach (var group in Groups(labour.Items))
        {
            var line = Line(index, labour, index.Skills[group[0].Work.Skill], group[0].Work.Phase, group);
            if (line.Quantity > 0)
            {
                lines.Add(line);
            }
        }
    }

    /// <summary>The work of one skill in one phase together, phases in their order.</summary>
    private static List<List<WorkHours>> Groups(IReadOnlyList<WorkHours> items)
    {
        var groups = new List<List<WorkHours>>();
        foreach (var item in items)
        {
            Add(groups, item);
        }

        groups.Sort(
            (a, b) =>
                a[0].Work.Phase != b[0].Work.Phase
                    ? a[0].Work.Phase.CompareTo(b[0].Work.Phase)
                    : string.CompareOrdinal(a[0].Work.Skill, b[0].Work.Skill)
        );
        return groups;
    }

    private static void Add(List<List<WorkHours>> groups, WorkHours item)
    {
        foreach (var group in groups)
        {
            if (group[0].Work.Phase == item.Work.Phase && group[0].Work.Skill == item.Work.Skill)
            {
                group.Add(item);
                return;
            }
        }

        groups.Add([item]);
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
            new DeferredList<Explanation>(items.Count + 1, () => Parts(index, labour, mean, hours, items)),
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
