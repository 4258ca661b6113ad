using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>The route of one job: what is done, in route order, and which operations of the template this job does not need.</summary>
/// <remarks>Each <see cref="RouteOperation.After"/> names operations that are on this route; gates and work are those that apply.</remarks>
public sealed record BuiltRoute(
    string TemplateCode,
    int TemplateEdition,
    IReadOnlyList<AccessWay> Ways,
    IReadOnlyList<RouteOperation> Operations,
    IReadOnlyList<LeftOffOperation> LeftOff
)
{
    /// <summary>Work content for pricing: one entry for each operation and labour standard, in route order.</summary>
    public IReadOnlyList<WorkContent> WorkContent =>
        [
            .. Operations.SelectMany(o =>
                o.Work.Select(w => new WorkContent(
                    o.Code,
                    o.Title,
                    o.Phase,
                    w.Skill ?? o.Skill,
                    w.Standard,
                    w.Quantity
                ))
            ),
        ];
}

/// <summary>An operation that the template has and this job does not need.</summary>
public sealed record LeftOffOperation(string Code, string Title);

/// <summary>Draws a job's route from its template and scope.</summary>
public static class RouteBuilder
{
    /// <summary>The operations whose conditions hold, in template order.</summary>
    /// <remarks>Where an operation is left off, those that had to wait for it wait for its own predecessors instead. A hold point or cure of an operation that is left off falls away. Work of the same standard within an operation is added up. Parts that the customer brings are named by their codes, if they are known already.</remarks>
    public static BuiltRoute Build(
        RouteTemplate template,
        JobScope scope,
        IReadOnlyCollection<string>? customerBrings = null
    )
    {
        var brings = customerBrings ?? [];
        bool Holds(RouteCondition? condition) =>
            condition is null || condition.Holds(scope, template.AnswerDefaults, brings);

        var byCode = template.Operations.ToDictionary(o => o.Code, StringComparer.Ordinal);
        var kept = template.Operations.Where(o => Holds(o.When)).Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        var operations = template
            .Operations.Where(o => kept.Contains(o.Code))
            .Select(o =>
                o with
                {
                    After = After(o, byCode, kept),
                    Gates =
                    [
                        .. o.Gates.Where(g => Holds(g.When) && (g.Operation is null || kept.Contains(g.Operation))),
                    ],
                    Work = Work(o, scope, Holds),
                    When = null,
                }
            )
            .ToList();
        var leftOff = template
            .Operations.Where(o => !kept.Contains(o.Code))
            .Select(o => new LeftOffOperation(o.Code, o.Title));
        return new BuiltRoute(template.Code, template.Edition, template.Ways, operations, [.. leftOff]);
    }

    /// <summary>Work content of the job, for pricing.</summary>
    public static IReadOnlyList<WorkContent> WorkContent(
        RouteTemplate template,
        JobScope scope,
        IReadOnlyCollection<string>? customerBrings = null
    ) => Build(template, scope, customerBrings).WorkContent;

    private static List<string> After(
        RouteOperation operation,
        Dictionary<string, RouteOperation> byCode,
        HashSet<string> kept
    )
    {
        var found = new List<string>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<string>(operation.After.Reverse());
        while (open.TryPop(out var code))
        {
            if (!seen.Add(code))
            {
                continue;
            }

            if (kept.Contains(code))
            {
                found.Add(code);
            }
            else
            {
                foreach (var earlier in byCode[code].After.Reverse())
                {
                    open.Push(earlier);
                }
            }
        }

        return found;
    }

    private static List<RouteWork> Work(RouteOperation operation, JobScope scope, Func<RouteCondition?, bool> holds) =>
        [
            .. operation
                .Work.Where(w => holds(w.When))
                .Select(w =>
                    (
                        w.Standard,
                        Skill: w.Skill ?? operation.Skill,
                        Quantity: w.PerDoor ? w.Quantity * RouteCondition.DoorsMatching(w.When, scope) : w.Quantity
                    )
                )
                .Concat(
                    operation.TakesBenchWork
                        ? scope.Bench.Select(b => (Standard: b.StandardCode, b.Skill, b.Quantity))
                        : []
                )
                .Where(w => w.Quantity > 0)
                .GroupBy(w => (w.Standard, w.Skill))
                .Select(g => new RouteWork
                {
                    Standard = g.Key.Standard,
                    Skill = g.Key.Skill == operation.Skill ? null : g.Key.Skill,
                    Quantity = g.Sum(w => w.Quantity),
                }),
        ];
}
