using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>The newest plan, brought onto the open time as it is now; where there is none, the plain rule's.</summary>
/// <param name="Entries">For the operations that are still to be done and whose time has not passed.</param>
/// <param name="MovedOn">In what the shop has moved on since it was made.</param>
internal sealed record StandingPlan(
    IReadOnlyList<PlanEntry> Entries,
    IReadOnlyList<PlanLeftOut> LeftOut,
    IReadOnlyList<string> MovedOn
)
{
    private const int MostNames = 6;

    /// <summary>Nobody begins to the minute.</summary>
    private static readonly TimeSpan Grace = TimeSpan.FromMinutes(30);

    public static StandingPlan Of(PlanMaterial material, PlanQuestion question)
    {
        var problem = question.Problem;
        if (material.Last?.Operations is not { } kept)
        {
            var plain = DispatchPlan.Run(problem);
            return new StandingPlan(
                plain.Entries,
                [
                    .. plain.LeftOut.Select(l => new PlanLeftOut(
                        problem.Jobs[l.Key].Id,
                        problem.Jobs[l.Key].Number,
                        l.Value
                    )),
                ],
                []
            );
        }

        var tasks = problem
            .Tasks.Select((t, i) => (Key: (problem.Jobs[t.Job].Id, t.Code), i))
            .ToDictionary(p => p.Key, p => p.i);
        var entries = new List<PlanEntry>();
        var behind = new HashSet<string>(StringComparer.Ordinal);
        foreach (var operation in kept)
        {
            if (!tasks.TryGetValue((operation.Job, operation.Operation), out var task))
            {
                continue;
            }

            var number = problem.Jobs[problem.Tasks[task].Job].Number;
            if (!problem.Tasks[task].Begun && operation.Start + Grace < material.Now)
            {
                behind.Add(number);
            }

            if (Entry(problem, operation, task) is { } entry)
            {
                entries.Add(entry);
            }
        }

        return new StandingPlan(entries, Out(material, problem), [.. MovedOnSince(material, problem, entries, behind)]);
    }

    private static PlanEntry? Entry(PlanProblem problem, PlannedOperation operation, int task)
    {
        var start = problem.Axis.SlotAtOrAfter(operation.Start);
        var end = problem.Axis.SlotAtOrAfter(operation.End);
        var person = problem.People.Index().FirstOrDefault(p => p.Item.Id == operation.Person, (-1, null!)).Index;
        var place = problem
            .Places.Index()
            .FirstOrDefault(p => p.Item.Code == operation.Place && p.Item.Stand == operation.Stand, (-1, null!))
            .Index;
        return end > start && end <= problem.Axis.Slots && person >= 0 && place >= 0
            ? new PlanEntry(task, start, end, person, place)
            : null;
    }

    private static IReadOnlyList<PlanLeftOut> Out(PlanMaterial material, PlanProblem problem) =>
        [.. material.Last!.LeftOut.Where(l => problem.Jobs.Any(j => j.Id == l.Job))];

    private static IEnumerable<string> MovedOnSince(
        PlanMaterial material,
        PlanProblem problem,
        List<PlanEntry> entries,
        HashSet<string> behind
    )
    {
        var planned = entries.Select(e => e.Task).ToHashSet();
        var left = material.Last!.LeftOut.Select(l => l.Job).ToHashSet();
        var missing = problem
            .Tasks.Index()
            .Where(t => !planned.Contains(t.Index) && !left.Contains(problem.Jobs[t.Item.Job].Id))
            .Select(t => problem.Jobs[t.Item.Job].Number)
            .Distinct()
            .Except(behind)
            .ToList();
        if (missing.Count > 0)
        {
            yield return $"Not in the plan, or not wholly: {Names(missing)}.";
        }

        if (behind.Count > 0)
        {
            yield return $"Behind the plan: {Names([.. behind])}.";
        }

        var wished = material
            .Orders.Where(o => o.Wishes.Operations.Any(w => !Keeps(w, o.Job, problem, entries, material.Now)))
            .Select(o => o.Job.Number)
            .ToList();
        if (wished.Count > 0)
        {
            yield return $"Wished since, and not in the plan yet: {Names(wished)}.";
        }
    }

    private static bool Keeps(
        OperationWish wish,
        Job job,
        PlanProblem problem,
        List<PlanEntry> entries,
        DateTimeOffset now
    )
    {
        var entry = entries.Find(e =>
            problem.Tasks[e.Task].Code == wish.Operation && problem.Jobs[problem.Tasks[e.Task].Job].Id == job.Id
        );
        return entry is null
            || (
                (wish.Person is null || problem.People[entry.Person].Id == wish.Person)
                && (wish.NotBefore is null || problem.Axis.DayOf(entry.Start).Day >= wish.NotBefore)
                && (wish.BeginsAt(now) is not { } at || entry.Start == problem.Axis.SlotAtOrAfter(at))
            );
    }

    private static string Names(List<string> numbers) =>
        string.Join(", ", numbers.Order(StringComparer.Ordinal).Take(MostNames))
        + (numbers.Count > MostNames ? $" and {numbers.Count - MostNames} more" : "");
}
