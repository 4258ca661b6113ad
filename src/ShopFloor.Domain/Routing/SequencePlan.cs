using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>What the build-sequence check looks at: which ways are open at the start, the operations, and which of them are done already, in the order in which they were done.</summary>
/// <remarks>A way that is not named in <see cref="OpenWays"/> starts closed.</remarks>
public sealed record SequencePlan(
    IReadOnlyList<string> OpenWays,
    IReadOnlyList<SequenceOperation> Operations,
    IReadOnlyList<string> Done
)
{
    public const int MostOperations = RouteTemplate.MostOperations;
    public const int MostWays = RouteTemplate.MostWays;

    /// <summary>Unknown references, duplicate ids, too many operations or ways, each with the JSON path of the request.</summary>
    public IReadOnlyList<FieldError> Problems()
    {
        var errors = new FieldErrors();
        errors.AddIf(
            Operations.Count > MostOperations,
            "operations",
            $"There are {Operations.Count} operations; at most {MostOperations} are checked."
        );
        var ways = OpenWays.Concat(Operations.SelectMany(o => o.NeedsOpen.Concat(o.Closes).Concat(o.Opens)));
        var wayCount = ways.Distinct(StringComparer.Ordinal).Count();
        errors.AddIf(wayCount > MostWays, "ways", $"There are {wayCount} access ways; at most {MostWays} are checked.");
        var known = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Operations.Count; i++)
        {
            errors.AddIf(
                !known.Add(Operations[i].Id),
                $"operations[{i}].id",
                $"There are two operations called {Operations[i].Id}; each needs its own id."
            );
        }

        for (var i = 0; i < Operations.Count; i++)
        {
            var after = Operations[i].After;
            for (var j = 0; j < after.Count; j++)
            {
                errors.AddIf(
                    !known.Contains(after[j]),
                    $"operations[{i}].after[{j}]",
                    $"{Operations[i].Id} comes after {after[j]}, which is not among the operations."
                );
            }
        }

        var done = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < Done.Count; i++)
        {
            errors.AddIf(
                !known.Contains(Done[i]),
                $"done[{i}]",
                $"{Done[i]} is said to be done but is not among the operations."
            );
            errors.AddIf(!done.Add(Done[i]), $"done[{i}]", $"{Done[i]} is said to be done twice.");
        }

        return errors.Any ? ((Failure.Invalid)errors.ToFailure()).Errors : [];
    }
}

/// <summary>One operation as the check sees it: it may be done when all of <see cref="After"/> are done and all of <see cref="NeedsOpen"/> are open; then its <see cref="Closes"/> close and after that its <see cref="Opens"/> open.</summary>
public sealed record SequenceOperation(
    string Id,
    IReadOnlyList<string> After,
    IReadOnlyList<string> NeedsOpen,
    IReadOnlyList<string> Closes,
    IReadOnlyList<string> Opens
);

/// <summary>The answer of the build-sequence check.</summary>
/// <param name="CanFinish">True: the order finishes everything. False: no order does. Null: the search limit was reached, nothing is known.</param>
/// <param name="Order">The remaining operations in an order that works; empty unless there is one.</param>
/// <param name="DeadEnd">Where one ends up, when no order finishes everything.</param>
/// <param name="Cycle">Operations that wait for each other in a circle, each before the one that waits for it; empty if there are none.</param>
public sealed record SequenceResult(
    bool? CanFinish,
    IReadOnlyList<string> Order,
    DeadEnd? DeadEnd,
    IReadOnlyList<string> Cycle
);

/// <summary>A state that can be reached and from which nothing more can be done.</summary>
/// <param name="Operation">The first operation, in the plan's order, that is left over there.</param>
/// <param name="After">The order that leads there, without those done already.</param>
/// <param name="Reasons">For each operation left over, what it lacks.</param>
public sealed record DeadEnd(string Operation, IReadOnlyList<string> After, IReadOnlyList<Reason> Reasons);
