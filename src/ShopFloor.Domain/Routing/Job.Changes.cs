using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>An operation that an approved change adds to a running job.</summary>
/// <param name="Route">What it is, with what it must wait for.</param>
/// <param name="Before">Operations that must wait for it; none of them begun.</param>
/// <param name="Mends">The operation that it mends, where it is rework.</param>
public sealed record AddedOperation(RouteOperation Route, IReadOnlyList<string> Before, string? Mends = null);

/// <content>Operations that are added after the job was opened.</content>
public sealed partial class Job
{
    /// <summary>Why operations cannot be added, each with the path of its field; then whether the rest could still be finished with them. Null where they can. Nothing is changed.</summary>
    public Failure? RefuseAdded(IReadOnlyList<AddedOperation> added)
    {
        ArgumentNullException.ThrowIfNull(added);
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        var errors = new FieldErrors();
        errors.AddIf(
            operations.Count + added.Count > RouteTemplate.MostOperations,
            "operations",
            $"A job has at most {RouteTemplate.MostOperations} operations."
        );
        var codes = operations.Select(o => o.Code).Concat(added.Select(a => a.Route.Code)).ToHashSet();
        for (var i = 0; i < added.Count; i++)
        {
            Check(added, i, codes, errors);
        }

        return errors.Any ? errors.ToFailure()
            : added.Count == 0 ? null
            : DeadEndWith(added);
    }

    /// <summary>Puts operations on the route by their numbers.</summary>
    /// <returns>The new operations; refused as <see cref="RefuseAdded"/> says.</returns>
    public Outcome<IReadOnlyList<Operation>> Add(IReadOnlyList<AddedOperation> added, Func<OperationId> newId)
    {
        if (RefuseAdded(added) is { } failure)
        {
            return failure;
        }

        var order = Operations.ToList();
        var made = new List<Operation>();
        foreach (var one in added)
        {
            var operation = new Operation(newId(), Id, 0, one.Route);
            operation.MarkExtra(one.Mends);
            var at = order.FindIndex(o => NumberOf(o.Code) > NumberOf(one.Route.Code));
            order.Insert(at < 0 ? order.Count : at, operation);
            operations.Add(operation);
            made.Add(operation);
            foreach (var later in one.Before)
            {
                Operation(later)!.WaitAlsoFor(one.Route.Code);
            }
        }

        for (var i = 0; i < order.Count; i++)
        {
            order[i].MoveTo(i);
        }

        return made;
    }

    private void Check(IReadOnlyList<AddedOperation> added, int i, HashSet<string> codes, FieldErrors errors)
    {
        var (route, path) = (added[i].Route, $"operations[{i}]");
        errors.AddIf(
            NumberOf(route.Code) is null || route.Code.Length > 4,
            path + ".code",
            "An operation's number has 1 to 4 digits, such as 55."
        );
        errors.AddIf(
            Operation(route.Code) is not null || added.Take(i).Any(a => a.Route.Code == route.Code),
            path + ".code",
            $"There is an operation {route.Code} already; take a number in between."
        );
        errors.AddIf(
            route is { Phase: Phase.SignOff, Skill: Routing.Operation.InspectorSkill },
            path + ".skill",
            "The sign-off's own inspection is on the route already; put an inspection into an earlier phase."
        );
        foreach (var (j, code) in route.After.Index())
        {
            errors.AddIf(
                !codes.Contains(code) || code == route.Code,
                $"{path}.after[{j}]",
                $"{route.Code} cannot come after {code}: there is no such operation here."
            );
        }

        foreach (var (j, code) in added[i].Before.Index())
        {
            var later = Operation(code);
            errors.AddIf(
                later is null,
                $"{path}.before[{j}]",
                $"{route.Code} cannot come before {code}: there is no such operation on the route."
            );
            errors.AddIf(
                later is { BegunAt: not null } or { IsOver: true },
                $"{path}.before[{j}]",
                $"{code} {later?.Title} has begun already, so it cannot wait for {route.Code}."
            );
        }

        foreach (var way in route.NeedsOpen.Concat(route.Closes).Concat(route.Opens))
        {
            errors.AddIf(
                Ways.All(w => w.Code != way),
                path + ".needsOpen",
                $"This route has no access way '{way}'; it has: {string.Join(", ", Ways.Select(w => w.Code))}."
            );
        }

        foreach (var gate in route.Gates)
        {
            errors.AddIf(
                gate.Kind
                    is not (
                        GateKind.HoldPoint
                        or GateKind.Cure
                        or GateKind.CustomerPart
                        or GateKind.Stock
                        or GateKind.SentOut
                        or GateKind.QualifiedPerson
                        or GateKind.SecondPerson
                    ),
                path + ".gates",
                "A gate is holdPoint, cure, customerPart, stock, sentOut, qualifiedPerson or secondPerson."
            );
            errors.AddIf(
                gate.Kind is GateKind.HoldPoint or GateKind.Cure
                    && (gate.Operation is null || !codes.Contains(gate.Operation)),
                path + ".gates",
                $"The gate names operation {gate.Operation}, which is not here."
            );
            errors.AddIf(
                gate.Kind is GateKind.CustomerPart or GateKind.Stock or GateKind.SentOut && gate.Part is null,
                path + ".gates",
                "Say by its code for which part, stock or work sent out it waits."
            );
        }
    }

    private Failure? DeadEndWith(IReadOnlyList<AddedOperation> added)
    {
        var now = JobSequence.PlanAfter(this, null, default, OpenWays);
        var left = now.Operations.Select(o => o.Id).Concat(added.Select(a => a.Route.Code)).ToHashSet();
        var plan = now with
        {
            Operations =
            [
                .. now.Operations.Select(o =>
                    o with
                    {
                        After =
                        [
                            .. o
                                .After.Concat(added.Where(a => a.Before.Contains(o.Id)).Select(a => a.Route.Code))
                                .Distinct(),
                        ],
                    }
                ),
                .. added.Select(a => new SequenceOperation(
                    a.Route.Code,
                    [
                        .. a
                            .Route.After.Concat(
                                a.Route.Gates.Where(g => g.Kind == GateKind.Cure).Select(g => g.Operation!)
                            )
                            .Where(left.Contains)
                            .Distinct(),
                    ],
                    a.Route.NeedsOpen,
                    a.Route.Closes,
                    a.Route.Opens
                )),
            ],
        };
        var result = SequenceCheck.Run(plan);
        if (result.CanFinish is not false)
        {
            return null;
        }

        if (result.Cycle.Count > 0)
        {
            return Failure.Because(
                "buildSequence",
                $"These operations would wait for each other in a circle: {string.Join(", ", result.Cycle)}. Change what comes before or after.",
                result.Cycle[0]
            );
        }

        return Failure.Because(
            "buildSequence",
            "With these operations added the job could not be finished: "
                + string.Join(" ", result.DeadEnd!.Reasons.Take(2).Select(r => InWords(r.Text)))
                + " Put them elsewhere on the route, or say what opens the way again.",
            result.DeadEnd.Operation
        );
    }

    private string InWords(string text) =>
        Ways.Aggregate(text, (t, w) => t.Replace(w.Code, w.Title, StringComparison.Ordinal))
            .Replace("never opened", "closed, and nothing left opens it", StringComparison.Ordinal);

    private static int? NumberOf(string code) =>
        int.TryParse(code, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
