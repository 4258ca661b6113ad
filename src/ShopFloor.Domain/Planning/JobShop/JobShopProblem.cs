using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning.JobShop;

/// <param name="Resource">Name of what does it: one operation at a time.</param>
/// <param name="Minutes">0 to <see cref="JobShopProblem.LongestMinutes"/>.</param>
public sealed record JobShopStep(string Resource, int Minutes);

/// <summary>Operations that are done in the order of the list.</summary>
public sealed record JobShopJob(string Id, IReadOnlyList<JobShopStep> Steps);

/// <summary>
/// The classical job shop: whole minutes, one operation at a time on a resource, the operations of a job in their order, none interrupted; the aim is
/// the earliest end of all (Muth and Thompson, Industrial Scheduling, 1963).
/// </summary>
public sealed class JobShopProblem
{
    public const int MostOperations = 5_000;
    public const int MostJobs = 5_000;
    public const int LongestMinutes = 1_000_000;

    private JobShopProblem(IReadOnlyList<JobShopJob> jobs)
    {
        Jobs = jobs;
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        ResourceOf =
        [
            .. jobs.Select(j =>
                j.Steps.Select(s =>
                        numbers.TryGetValue(s.Resource, out var number) ? number : numbers[s.Resource] = numbers.Count
                    )
                    .ToArray()
            ),
        ];
        ResourceCount = numbers.Count;
        OperationCount = jobs.Sum(j => j.Steps.Count);
        Horizon = jobs.Sum(j => j.Steps.Sum(s => (long)s.Minutes));
        LowerBound = PlainBound();
    }

    public IReadOnlyList<JobShopJob> Jobs { get; }

    /// <summary>Number of the resource, from 0, by job and operation.</summary>
    public IReadOnlyList<IReadOnlyList<int>> ResourceOf { get; }

    public int ResourceCount { get; }
    public int OperationCount { get; }

    /// <summary>Everything one after the other: no plan that is worth anything ends later. At most 5 × 10⁹ minutes.</summary>
    public long Horizon { get; }

    /// <summary>No plan ends earlier: the longest job, or a resource's work with the shortest way to it and the shortest way home.</summary>
    public long LowerBound { get; }

    public static Outcome<JobShopProblem> Create(IReadOnlyList<JobShopJob> jobs)
    {
        var errors = new FieldErrors();
        errors.AddIf(jobs.Count > MostJobs, "jobs", $"There are {jobs.Count} jobs; at most {MostJobs} are planned.");
        var count = jobs.Sum(j => (long)j.Steps.Count);
        errors.AddIf(
            count > MostOperations,
            "jobs",
            $"There are {count} operations; at most {MostOperations} are planned."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var ids = new HashSet<string>(StringComparer.Ordinal);
        for (var j = 0; j < jobs.Count; j++)
        {
            CheckName(jobs[j].Id, $"jobs[{j}].id", "The job's id", errors);
            errors.AddIf(!ids.Add(jobs[j].Id), $"jobs[{j}].id", "Two jobs have this id; each needs its own.");
            for (var i = 0; i < jobs[j].Steps.Count; i++)
            {
                var (step, path) = (jobs[j].Steps[i], $"jobs[{j}].operations[{i}]");
                CheckName(step.Resource, path + ".resource", "The resource", errors);
                errors.AddIf(
                    step.Minutes is < 0 or > LongestMinutes,
                    path + ".durationMinutes",
                    $"A duration is 0 to {LongestMinutes} whole minutes."
                );
            }
        }

        return errors.Any ? errors.ToFailure() : new JobShopProblem(jobs);
    }

    private static void CheckName(string name, string path, string label, FieldErrors errors) =>
        errors.AddIf(
            name is not { Length: > 0 and <= TextRules.ShortText },
            path,
            $"{label} has 1 to {TextRules.ShortText} characters."
        );

    private long PlainBound()
    {
        var (load, head, tail) = (new long[ResourceCount], new long[ResourceCount], new long[ResourceCount]);
        Array.Fill(head, long.MaxValue);
        Array.Fill(tail, long.MaxValue);
        long longest = 0;
        for (var j = 0; j < Jobs.Count; j++)
        {
            var whole = Jobs[j].Steps.Sum(s => (long)s.Minutes);
            longest = Math.Max(longest, whole);
            long before = 0;
            for (var i = 0; i < Jobs[j].Steps.Count; i++)
            {
                var (minutes, r) = (Jobs[j].Steps[i].Minutes, ResourceOf[j][i]);
                if (minutes > 0)
                {
                    load[r] += minutes;
                    head[r] = Math.Min(head[r], before);
                    tail[r] = Math.Min(tail[r], whole - before - minutes);
                }

                before += minutes;
            }
        }

        return Enumerable
            .Range(0, ResourceCount)
            .Where(r => load[r] > 0)
            .Select(r => head[r] + load[r] + tail[r])
            .Append(longest)
            .Max();
    }
}
