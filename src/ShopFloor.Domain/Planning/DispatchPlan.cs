namespace ShopFloor.Domain.Planning;

/// <summary>A plan made at once, with what had to be left out or given up.</summary>
/// <param name="Problem">What was planned: the same, without wishes that could not be kept.</param>
/// <param name="LeftOut">Jobs that could not be planned, each with the sentence why.</param>
/// <param name="GivenUp">Wished beginnings that could not be kept, as sentences.</param>
public sealed record DispatchResult(
    PlanProblem Problem,
    IReadOnlyList<PlanEntry> Entries,
    IReadOnlyDictionary<int, string> LeftOut,
    IReadOnlyList<string> GivenUp
);

/// <summary>A plain rule that gives a valid plan at once: job by job, begun ones first, then by weight and promised day; each operation as early as people, place and rules let it.</summary>
/// <remarks>Serial schedule generation with a priority list: classical, e.g. R. Kolisch, "Serial and parallel resource-constrained project scheduling methods revisited", EJOR 90 (1996), from memory.</remarks>
public static class DispatchPlan
{
    /// <summary>Puts jobs into a plan that stands, without moving anything of it.</summary>
    /// <param name="standing">Taken as they are; jobs that have none of their operations in it are put in.</param>
    public static DispatchResult AddTo(PlanProblem problem, IReadOnlyList<PlanEntry> standing)
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(standing);
        var board = new DispatchBoard(problem);
        board.Keep(standing);
        var kept = standing.Select(e => problem.Tasks[e.Task].Job).ToHashSet();
        var leftOut = board.Fill(j => !kept.Contains(j));
        return new DispatchResult(problem, board.Entries, leftOut, []);
    }

    public static DispatchResult Run(PlanProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        var givenUp = new List<string>();
        while (true)
        {
            var board = new DispatchBoard(problem);
            var leftOut = board.Fill();
            if (board.Broken is not { } broken)
            {
                return new DispatchResult(problem, board.Entries, leftOut, givenUp);
            }

            var task = problem.Tasks[broken];
            givenUp.Add(
                $"{problem.Jobs[task.Job].Number} {task.Code} {task.Title} cannot begin when it was set to: what comes before, a person, a place or a rule of the shop is in the way."
            );
            problem = problem with
            {
                Tasks = [.. problem.Tasks.Select((t, i) => i == broken ? t with { Fixed = null, Begun = false } : t)],
            };
        }
    }
}
