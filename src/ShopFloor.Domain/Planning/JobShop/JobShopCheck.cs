namespace ShopFloor.Domain.Planning.JobShop;

/// <summary>Judges a plan by the rules alone, however it was found; knows nothing of the solver.</summary>
public static class JobShopCheck
{
    /// <summary>Sentences of what is wrong; empty when the plan holds.</summary>
    public static IReadOnlyList<string> Faults(JobShopProblem problem, JobShopPlan plan)
    {
        if (
            plan.Starts.Count != problem.Jobs.Count
            || plan.Starts.Where((s, j) => s.Count != problem.Jobs[j].Steps.Count).Any()
        )
        {
            return ["The plan does not have each operation of the jobs exactly once."];
        }

        var faults = new List<string>();
        var onResource = new List<(long Start, long End, string Name)>[problem.ResourceCount];
        for (var r = 0; r < onResource.Length; r++)
        {
            onResource[r] = [];
        }

        for (var j = 0; j < problem.Jobs.Count; j++)
        {
            long free = 0;
            for (var i = 0; i < problem.Jobs[j].Steps.Count; i++)
            {
                var (start, name) = (plan.Starts[j][i], $"operation {i} of job {problem.Jobs[j].Id}");
                var end = start + problem.Jobs[j].Steps[i].Minutes;
                if (start < free)
                {
                    faults.Add(
                        i == 0
                            ? $"The {name} starts before minute 0."
                            : $"The {name} starts before the one before it has ended."
                    );
                }

                if (end > problem.Horizon)
                {
                    faults.Add($"The {name} ends after the horizon.");
                }

                free = Math.Max(free, end);
                onResource[problem.ResourceOf[j][i]].Add((start, end, name));
            }
        }

        foreach (var list in onResource)
        {
            list.Sort();
            for (var k = 1; k < list.Count; k++)
            {
                if (list[k].Start < list[k - 1].End)
                {
                    faults.Add($"The {list[k - 1].Name} and the {list[k].Name} overlap on one resource.");
                }
            }
        }

        return faults;
    }
}
