using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>What sort of difference.</summary>
public enum RouteChangeKind
{
    Added,
    Removed,
    Changed,
}

/// <summary>One difference between two routes, as a sentence.</summary>
/// <param name="Operation">Its number; null for what concerns the whole route.</param>
public sealed record RouteChange(RouteChangeKind Kind, string? Operation, string Sentence);

/// <summary>Compares two editions of a route template in sentences.</summary>
public static class RouteDifferences
{
    public static IReadOnlyList<RouteChange> Between(RouteTemplate from, RouteTemplate to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        var changes = new List<RouteChange>();
        Text(from.Title, to.Title, "The title", null, changes);
        Text(from.Source, to.Source, "The source", null, changes);
        Lists(from.Kits, to.Kits, "It is for the kit", "It is no longer for the kit", null, changes);
        Ways(from, to, changes);
        var before = from.Operations.DistinctBy(o => o.Code).ToDictionary(o => o.Code, StringComparer.Ordinal);
        var after = to.Operations.DistinctBy(o => o.Code).ToDictionary(o => o.Code, StringComparer.Ordinal);
        var titles = to.Ways.Concat(from.Ways).DistinctBy(w => w.Code).ToDictionary(w => w.Code, w => w.Title);
        foreach (var operation in to.Operations)
        {
            if (!before.TryGetValue(operation.Code, out var old))
            {
                changes.Add(
                    new RouteChange(
                        RouteChangeKind.Added,
                        operation.Code,
                        $"{operation.Code} {operation.Title} is new{(operation.After.Count > 0 ? $", after {string.Join(", ", operation.After)}" : "")}."
                    )
                );
                continue;
            }

            changes.AddRange(
                Between(old, operation, w => titles.GetValueOrDefault(w, w))
                    .Select(s => new RouteChange(RouteChangeKind.Changed, operation.Code, $"{operation.Code}: {s}"))
            );
        }

        changes.AddRange(
            from.Operations.Where(o => !after.ContainsKey(o.Code))
                .Select(o => new RouteChange(RouteChangeKind.Removed, o.Code, $"{o.Code} {o.Title} is gone."))
        );
        var kept = to.Operations.Select(o => o.Code).Where(before.ContainsKey).ToList();
        if (!kept.SequenceEqual(from.Operations.Select(o => o.Code).Where(after.ContainsKey)))
        {
            changes.Add(new RouteChange(RouteChangeKind.Changed, null, "The operations are shown in another order."));
        }

        return changes;
    }

    /// <summary>What differs in one operation, a sentence each, without its number.</summary>
    public static IReadOnlyList<string> Between(RouteOperation from, RouteOperation to, Func<string, string> way)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(way);
        var said = new List<string>();
        void Was(string what, string old, string now)
        {
            if (old != now)
            {
                said.Add($"{what} was {Quoted(old)}, is {Quoted(now)}.");
            }
        }

        void Sets(IEnumerable<string> old, IEnumerable<string> now, string added, string gone)
        {
            said.AddRange(now.Except(old).Select(n => $"{added} {n}."));
            said.AddRange(old.Except(now).Select(n => $"{gone} {n}."));
        }

        Was("The title", from.Title, to.Title);
        Was("The phase", from.Phase.Title(), to.Phase.Title());
        Was("The skill", from.Skill, to.Skill);
        Was("The place", from.Place, to.Place);
        Sets(from.After, to.After, "It waits now also for", "It waits no longer for");
        Sets(from.Gates.Select(GateWords), to.Gates.Select(GateWords), "New gate:", "Gate gone:");
        Sets(from.NeedsOpen.Select(way), to.NeedsOpen.Select(way), "It now needs", "It no longer needs");
        Sets(from.Closes.Select(way), to.Closes.Select(way), "It now closes", "It no longer closes");
        Sets(from.Opens.Select(way), to.Opens.Select(way), "It now opens", "It no longer opens");
        Sets(from.Figures, to.Figures, "Figures wanted:", "Figures no longer wanted:");
        Sets(from.Work.Select(WorkWords), to.Work.Select(WorkWords), "Work is now", "Work was");
        Was("Hot work", YesNo(from.HotWork), YesNo(to.HotWork));
        Was("Paint, solvent and fumes", YesNo(from.PaintOrSolvent), YesNo(to.PaintOrSolvent));
        Was("Taking the work a sale names", YesNo(from.TakesBenchWork), YesNo(to.TakesBenchWork));
        Was("The cure", Minutes(from.CureMinutes), Minutes(to.CureMinutes));
        Was("Done within a day", YesNo(from.InOneDay), YesNo(to.InOneDay));
        Sets(from.Equipment, to.Equipment, "Keeps for itself:", "No longer keeps for itself:");
        Was("The instruction", from.Instruction, to.Instruction);
        Was("The caution", from.Caution ?? "", to.Caution ?? "");
        if (!from.Pictures.SequenceEqual(to.Pictures))
        {
            Was("What the pictures show", Pictures(from), Pictures(to));
            if (Pictures(from) == Pictures(to))
            {
                said.Add("A picture was changed for another one.");
            }
        }

        Was("On the route", OnJobs(from.When), OnJobs(to.When));
        return said;
    }

    /// <summary>A gate as the editor and the comparison say it.</summary>
    public static string GateWords(RouteGate gate)
    {
        ArgumentNullException.ThrowIfNull(gate);
        var text = gate.Kind switch
        {
            GateKind.Authorisation => "authorisation signed",
            GateKind.CustomerPart => $"customer part '{gate.Part}' arrived",
            GateKind.Cure => $"cure of {gate.Operation} elapsed",
            GateKind.HoldPoint => $"hold point of {gate.Operation} passed",
            GateKind.Isolation => "high voltage isolated",
            GateKind.Stock => $"stock '{gate.Part}' reserved or received",
            GateKind.SentOut => $"work '{gate.Part}' sent out and back",
            GateKind.QualifiedPerson => "a qualified person present",
            GateKind.SecondPerson => "a second person present",
            _ => gate.Kind.ToString(),
        };
        return text + Only(gate.When);
    }

    private static void Ways(RouteTemplate from, RouteTemplate to, List<RouteChange> changes)
    {
        foreach (var way in to.Ways)
        {
            var old = from.Ways.FirstOrDefault(w => w.Code == way.Code);
            if (old is null)
            {
                changes.Add(new RouteChange(RouteChangeKind.Added, null, $"New access way: {way.Title}."));
            }
            else if (old != way)
            {
                changes.Add(
                    new RouteChange(
                        RouteChangeKind.Changed,
                        null,
                        $"The access way {way.Code} is now \"{way.Title}\", {(way.OpenAtStart ? "open" : "closed")} at the start."
                    )
                );
            }
        }

        changes.AddRange(
            from.Ways.Where(o => to.Ways.All(w => w.Code != o.Code))
                .Select(o => new RouteChange(RouteChangeKind.Removed, null, $"Access way gone: {o.Title}."))
        );
    }

    private static void Text(string from, string to, string what, string? operation, List<RouteChange> changes)
    {
        if (from != to)
        {
            changes.Add(
                new RouteChange(RouteChangeKind.Changed, operation, $"{what} was {Quoted(from)}, is {Quoted(to)}.")
            );
        }
    }

    private static void Lists(
        IReadOnlyList<string> from,
        IReadOnlyList<string> to,
        string added,
        string gone,
        string? operation,
        List<RouteChange> changes
    )
    {
        changes.AddRange(
            to.Except(from).Select(k => new RouteChange(RouteChangeKind.Added, operation, $"{added} {k}."))
        );
        changes.AddRange(
            from.Except(to).Select(k => new RouteChange(RouteChangeKind.Removed, operation, $"{gone} {k}."))
        );
    }

    private static string WorkWords(RouteWork work) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{work.Quantity:0.####} {work.Standard}{(work.PerDoor ? " for each door" : "")}{(work.Skill is { } skill ? $" by {skill}" : "")}{Only(work.When)}"
        );

    private static string OnJobs(RouteCondition? when) =>
        RouteConditionWords.Of(when) is { Length: > 0 } words ? "on jobs " + words : "always";

    private static string Only(RouteCondition? when) =>
        RouteConditionWords.Of(when) is { Length: > 0 } words ? $" (only {words})" : "";

    private static string Pictures(RouteOperation operation) =>
        string.Join("; ", operation.Pictures.Select(p => p.Caption));

    private static string Quoted(string text) => text.Length == 0 ? "empty" : $"\"{text}\"";

    private static string YesNo(bool value) => value ? "yes" : "no";

    private static string Minutes(int minutes) =>
        minutes == 0 ? "none"
        : minutes % 60 == 0 ? $"{minutes / 60} h"
        : $"{minutes} min";
}
