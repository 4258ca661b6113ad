using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Inspection;

/// <summary>Compares two versions of an inspection plan in sentences.</summary>
public static class InspectionPlanDifferences
{
    /// <summary>A sentence for each difference, in the order of the newer plan; the operation is that at which the line is looked at.</summary>
    public static IReadOnlyList<RouteChange> Between(InspectionPlanDocument from, InspectionPlanDocument to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        var changes = new List<RouteChange>();
        if (from.Title != to.Title)
        {
            changes.Add(new(RouteChangeKind.Changed, null, $"The title was \"{from.Title}\", is \"{to.Title}\"."));
        }

        changes.AddRange(
            to.Kits.Except(from.Kits).Select(k => new RouteChange(RouteChangeKind.Added, null, $"It is for {k} too."))
        );
        changes.AddRange(
            from.Kits.Except(to.Kits)
                .Select(k => new RouteChange(RouteChangeKind.Removed, null, $"It is no longer for {k}."))
        );
        var before = from.Lines.DistinctBy(l => l.Code).ToDictionary(l => l.Code, StringComparer.Ordinal);
        var after = to.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var line in to.Lines)
        {
            if (before.TryGetValue(line.Code, out var old))
            {
                changes.AddRange(
                    Between(old, line)
                        .Select(s => new RouteChange(RouteChangeKind.Changed, line.Operation, $"{line.What}: {s}"))
                );
            }
            else
            {
                changes.Add(
                    new(
                        RouteChangeKind.Added,
                        line.Operation,
                        $"New at {line.Operation}: {line.What} ({InspectionLine.Limits(line.Unit, line.Lower, line.Upper)})."
                    )
                );
            }
        }

        changes.AddRange(
            from.Lines.Where(l => !after.Contains(l.Code))
                .Select(l => new RouteChange(
                    RouteChangeKind.Removed,
                    l.Operation,
                    $"No longer looked at: {l.What}, at {l.Operation}."
                ))
        );
        var kept = to.Lines.Select(l => l.Code).Where(before.ContainsKey);
        if (!kept.SequenceEqual(from.Lines.Select(l => l.Code).Where(after.Contains)))
        {
            changes.Add(new(RouteChangeKind.Changed, null, "The lines stand in another order."));
        }

        return changes;
    }

    /// <summary>What differs in one line of a job.</summary>
    public static IReadOnlyList<string> Between(LineToCheck from, LineToCheck to) =>
        Between(Planned(from), Planned(to));

    private static PlannedLine Planned(LineToCheck line) =>
        new(
            line.Code,
            line.OperationCode,
            line.What,
            line.How,
            line.Source,
            line.Point,
            line.RecordedBy,
            line.Unit,
            line.Nominal,
            line.Lower,
            line.Upper,
            line.PhotoRequired,
            Caution: line.Caution,
            Pair: line.Pair,
            Ordered: line.Ordered,
            CustomerMayAttend: line.CustomerMayAttend
        );

    /// <summary>What differs in one line, a sentence each.</summary>
    public static IReadOnlyList<string> Between(PlannedLine from, PlannedLine to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        var said = new List<string>();
        void Was(string what, string? old, string? now)
        {
            if (old != now)
            {
                said.Add($"{what} {Quoted(old)}, is {Quoted(now)}.");
            }
        }

        Was("what is looked at was", from.What, to.What);
        Was("how was", from.How, to.How);
        Was("it was looked at at", from.Operation, to.Operation);
        Was(
            "its limits were",
            InspectionLine.Limits(from.Unit, from.Lower, from.Upper),
            InspectionLine.Limits(to.Unit, to.Lower, to.Upper)
        );
        Was("its limits went by", from.Ordered?.Words, to.Ordered?.Words);
        Was("the nominal value was", Number(from.Nominal), Number(to.Nominal));
        Was("a photo to pass was", Needed(from.PhotoRequired), Needed(to.PhotoRequired));
        Was("it was", from.Point.Words(), to.Point.Words());
        Was("the customer was", Invited(from.CustomerMayAttend), Invited(to.CustomerMayAttend));
        Was("it was passed by", from.RecordedBy.Words(), to.RecordedBy.Words());
        Was("the source was", from.Source, to.Source);
        Was("the figures that tighten it were", List(from.Figures), List(to.Figures));
        Was("it was hidden by", List(from.HiddenBy), List(to.HiddenBy));
        Was("the caution was", from.Caution, to.Caution);
        Was("it was asked", from.PerDoor ? "for each door" : "once", to.PerDoor ? "for each door" : "once");
        Was("its two values were", List(from.Pair), List(to.Pair));
        Was("it was only for the kits", List(from.Kits), List(to.Kits));
        Was("it was only for the hinges", List(from.HingeOptions), List(to.HingeOptions));
        Was("it was only for the uses", List(from.Uses), List(to.Uses));
        return said;
    }

    private static string? Number(decimal? value) => value is { } v ? InspectionLine.Text(v) : null;

    private static string Invited(bool value) => value ? "told" : "not told";

    private static string Needed(bool value) => value ? "needed" : "not needed";

    private static string? List(IReadOnlyList<string>? items) =>
        items is { Count: > 0 } some ? string.Join(", ", some) : null;

    private static string Quoted(string? text) => string.IsNullOrEmpty(text) ? "nothing" : $"\"{text}\"";
}
