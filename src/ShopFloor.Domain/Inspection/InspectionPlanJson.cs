using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Inspection;

/// <summary>Reads a plan's document from outside, finished or not.</summary>
public static class InspectionPlanJson
{
    public static Outcome<InspectionPlanDocument> Parse(string json) =>
        DataFiles
            .Read<InspectionPlanDocument>(json)
            .Then<InspectionPlanDocument>(d =>
                HasNulls(d) ? Failure.Field("", "The plan has an empty entry in one of its lists; take it out.") : d
            );

    /// <summary>A list entry that is null cannot be told apart from a written one later on.</summary>
    private static bool HasNulls(InspectionPlanDocument document) =>
        document.Kits.Contains(null!)
        || document.Lines.Any(l =>
            l is null
            || new[] { l.Kits, l.HingeOptions, l.Uses, l.Figures, l.Pair, l.HiddenBy }.Any(list =>
                list?.Contains(null!) == true
            )
        );
}
