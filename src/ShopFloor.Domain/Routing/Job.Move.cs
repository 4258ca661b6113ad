using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <content>A running job goes over to another edition of its route. Done work is kept.</content>
public sealed partial class Job
{
    /// <summary>One operation of the job after the move.</summary>
    private sealed record Moved(RouteOperation Route, Operation? Existing, RouteStepKind Kind, RouteOperation? Newly);

    /// <summary>What a move would do; changes nothing.</summary>
    public RouteMove PreviewMove(BuiltRoute to)
    {
        ArgumentNullException.ThrowIfNull(to);
        var reasons = new List<Reason>();
        if (NotOpen() is Failure.Refused closed)
        {
            reasons.AddRange(closed.Reasons);
        }

        if (to.TemplateCode != TemplateCode)
        {
            reasons.Add(
                new Reason(
                    "otherTemplate",
                    $"{Number} is built by {TemplateCode}; it cannot go over to {to.TemplateCode}."
                )
            );
        }

        if (to.TemplateEdition == TemplateEdition)
        {
            reasons.Add(new Reason("sameEdition", $"{Number} is on edition {TemplateEdition} already."));
        }

        var moved = MovedBy(to);
        reasons.AddRange(Clashes(to, moved));
        bool? canFinish = null;
        if (reasons.Count == 0)
        {
            var check = SequenceCheck.Run(
                JobSequence.PlanOf(moved.Select(m => (m.Route, StageAfter(m))), OpenWaysAfter(to).Open)
            );
            canFinish = check.CanFinish;
            if (check.Cycle.Count > 0)
            {
                reasons.Add(
                    new Reason(
                        "buildSequence",
                        $"Operations would wait for each other in a circle: {string.Join(" → ", check.Cycle)}.",
                        check.Cycle[0]
                    )
                );
            }
            else if (canFinish is false && JobOutlook.Of(this).CanFinish is not false)
            {
                reasons.Add(
                    new Reason(
                        "buildSequence",
                        "With what is done already the rest of the new edition could not be finished: "
                            + string.Join(" ", check.DeadEnd!.Reasons.Take(2).Select(r => WaysInWords(r.Text, to))),
                        check.DeadEnd.Operation
                    )
                );
            }
        }

        return new RouteMove(
            TemplateEdition,
            to.TemplateEdition,
            [.. moved.Select(m => StepOf(m, to)).OfType<RouteStep>()],
            reasons,
            canFinish
        );
    }

    /// <summary>Makes the move.</summary>
    /// <returns>The operations that are new; refused as <see cref="PreviewMove"/> says.</returns>
    public Outcome<IReadOnlyList<Operation>> MoveTo(
        BuiltRoute to,
        Worker by,
        DateTimeOffset now,
        Func<OperationId> newId
    )
    {
        ArgumentNullException.ThrowIfNull(to);
        if (PreviewMove(to).Refusals is { Count: > 0 } refusals)
        {
            return new Failure.Refused(refusals);
        }

        var moved = MovedBy(to);
        var (ways, open) = OpenWaysAfter(to);
        var made = new List<Operation>();
        foreach (var (step, position) in moved.Select((m, i) => (m, i)))
        {
            var operation = step.Existing;
            if (operation is null)
            {
                operation = new Operation(newId(), Id, position, step.Route);
                operations.Add(operation);
                made.Add(operation);
            }
            else if (step.Kind == RouteStepKind.Changes)
            {
                operation.Describe(step.Route);
            }
            else if (step.Kind == RouteStepKind.Goes)
            {
                operation.SetNotNeeded($"Not on edition {to.TemplateEdition} of the route.", by, now);
            }

            operation.MoveTo(position);
        }

        TemplateEdition = to.TemplateEdition;
        Ways = ways;
        OpenWays = open;
        return made;
    }

    private List<Moved> MovedBy(BuiltRoute to)
    {
        var extras = operations.Where(o => o.IsExtra).Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        var moved = to
            .Operations.Select(route =>
            {
                var existing = Operation(route.Code);
                if (existing is null)
                {
                    return new Moved(route, null, RouteStepKind.Comes, null);
                }

                if (existing.BegunAt is not null || existing.IsOver || existing.IsExtra)
                {
                    return new Moved(existing.Route, existing, RouteStepKind.Stays, route);
                }

                // What was put on this job only still comes before what waits for it.
                var after = route.After.Concat(existing.Route.After.Where(extras.Contains)).Distinct();
                return new Moved(route with { After = [.. after] }, existing, RouteStepKind.Changes, route);
            })
            .ToList();
        var known = to.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var existing in Operations.Where(o => !known.Contains(o.Code)))
        {
            var stays = existing.BegunAt is not null || existing.IsOver || existing.IsExtra;
            var at = moved.FindIndex(m => NumberOf(m.Route.Code) > NumberOf(existing.Code));
            moved.Insert(
                at < 0 ? moved.Count : at,
                new Moved(existing.Route, existing, stays ? RouteStepKind.Stays : RouteStepKind.Goes, null)
            );
        }

        return moved;
    }

    private IEnumerable<Reason> Clashes(BuiltRoute to, List<Moved> moved)
    {
        foreach (var taken in to.Operations.Where(o => Operation(o.Code) is { IsExtra: true }))
        {
            yield return new Reason(
                "numberTaken",
                $"The new edition has an operation {taken.Code} {taken.Title}, but on this job {taken.Code} is {Operation(taken.Code)!.Title}, put there later.",
                taken.Code
            );
        }

        var open = moved
            .Where(m =>
                m.Existing is null || m.Existing is { BegunAt: null, IsOver: false } && m.Kind != RouteStepKind.Goes
            )
            .ToDictionary(m => m.Route.Code, m => m.Route, StringComparer.Ordinal);
        foreach (
            var begun in moved.Where(m => m is { Newly: not null, Existing: { BegunAt: not null, IsExtra: false } })
        )
        {
            foreach (
                var earlier in begun.Newly!.After.Where(a => open.ContainsKey(a) && !begun.Route.After.Contains(a))
            )
            {
                yield return new Reason(
                    "tooLate",
                    $"On the new edition {earlier} {open[earlier].Title} comes before {begun.Route.Code} {begun.Route.Title}, which has begun on this car. Add it as rework, or leave the job on its edition.",
                    earlier
                );
            }
        }
    }

    /// <summary>The ways after the move: what is open now stays a fact; a way that is new stands as the operations begun and done leave it by the new edition's description.</summary>
    private (IReadOnlyList<AccessWay> Ways, IReadOnlyList<string> Open) OpenWaysAfter(BuiltRoute to)
    {
        var used = operations
            .Where(o => !o.IsOver)
            .SelectMany(o => o.Route.NeedsOpen.Concat(o.Route.Closes).Concat(o.Route.Opens))
            .ToHashSet(StringComparer.Ordinal);
        List<AccessWay> ways =
        [
            .. to.Ways,
            .. Ways.Where(w => to.Ways.All(n => n.Code != w.Code) && used.Contains(w.Code)),
        ];
        var fresh = to.Ways.Where(w => Ways.All(o => o.Code != w.Code)).ToList();
        var open = fresh.Where(w => w.OpenAtStart).Select(w => w.Code).ToHashSet(StringComparer.Ordinal);
        var described = to.Operations.ToDictionary(o => o.Code, StringComparer.Ordinal);
        foreach (
            var (_, _, change) in operations
                .Where(o => o.BegunAt is not null && described.ContainsKey(o.Code))
                .SelectMany(o =>
                    new (DateTimeOffset At, int Order, Action Change)[]
                    {
                        (o.BegunAt!.Value, 0, () => open.ExceptWith(described[o.Code].Closes)),
                        (
                            o.FinishedAt ?? DateTimeOffset.MaxValue,
                            1,
                            () =>
                            {
                                if (o.Progress == OperationProgress.Done)
                                {
                                    open.UnionWith(described[o.Code].Opens);
                                }
                            }
                        ),
                    }
                )
                .OrderBy(s => s.At)
                .ThenBy(s => s.Order)
        )
        {
            change();
        }

        var isFresh = fresh.Select(w => w.Code).ToHashSet(StringComparer.Ordinal);
        return (
            ways,
            [.. ways.Select(w => w.Code).Where(w => isFresh.Contains(w) ? open.Contains(w) : OpenWays.Contains(w))]
        );
    }

    private static JobSequence.Stage StageAfter(Moved moved) =>
        moved.Kind == RouteStepKind.Goes || moved.Existing is { IsOver: true } ? JobSequence.Stage.Over
        : moved.Existing is { IsUnderWay: true } ? JobSequence.Stage.UnderWay
        : JobSequence.Stage.NotBegun;

    private RouteStep? StepOf(Moved moved, BuiltRoute to)
    {
        string Way(string code) => to.Ways.Concat(Ways).FirstOrDefault(w => w.Code == code)?.Title ?? code;
        var (code, title) = (moved.Route.Code, moved.Route.Title);
        switch (moved.Kind)
        {
            case RouteStepKind.Comes:
                return new RouteStep(
                    code,
                    title,
                    moved.Kind,
                    [moved.Route.After.Count > 0 ? $"After {string.Join(", ", moved.Route.After)}." : "From the start."]
                );
            case RouteStepKind.Goes:
                return new RouteStep(
                    code,
                    title,
                    moved.Kind,
                    [
                        "It has not begun and is set to not needed. Inspection lines that belong to it stay and are still to be passed.",
                    ]
                );
            case RouteStepKind.Changes:
                var changes = RouteDifferences.Between(moved.Existing!.Route, moved.Route, Way);
                return changes.Count == 0 ? null : new RouteStep(code, title, moved.Kind, changes);
            default:
                if (moved.Newly is null)
                {
                    return new RouteStep(
                        code,
                        title,
                        moved.Kind,
                        [
                            moved.Existing!.IsExtra
                                ? "It was put on this job only and stays."
                                : "The new edition has it no more; it has begun or is over, and stays as it is.",
                        ]
                    );
                }

                return RouteDifferences.Between(moved.Existing!.Route, moved.Newly, Way).Count == 0
                    ? null
                    : new RouteStep(
                        code,
                        title,
                        moved.Kind,
                        ["It has begun or is over and stays as it was, though the new edition describes it otherwise."]
                    );
        }
    }

    private string WaysInWords(string text, BuiltRoute to) =>
        to
            .Ways.Concat(Ways)
            .DistinctBy(w => w.Code)
            .Aggregate(text, (t, w) => t.Replace(w.Code, w.Title, StringComparison.Ordinal));
}
