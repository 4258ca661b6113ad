using ShopFloor.Domain.Planning.JobShop;

namespace ShopFloor.Solvers.JobShop;

/// <summary>The order of the operations on each resource, with the earliest plan that keeps it. Operations are numbered through, job after job; -1 is none.</summary>
internal sealed class JobShopSequence
{
    private readonly int[] previousInJob;
    private readonly int[] nextInJob;
    private readonly int[] order;
    private readonly int[] waitsFor;
    private readonly List<int> path = [];

    /// <param name="plan">One that holds; operations of no length come before what begins at the same minute.</param>
    public JobShopSequence(JobShopProblem problem, JobShopPlan plan)
    {
        Count = problem.OperationCount;
        (Minutes, Before, Behind) = (new int[Count], new int[Count], new int[Count]);
        (Head, Tail) = (new long[Count], new long[Count]);
        (previousInJob, nextInJob) = (new int[Count], new int[Count]);
        (order, waitsFor) = (new int[Count], new int[Count]);
        Array.Fill(Before, -1);
        Array.Fill(Behind, -1);
        var onResource = Enumerable
            .Range(0, problem.ResourceCount)
            .Select(_ => new List<(long Start, long End, int Number)>())
            .ToArray();
        var number = 0;
        for (var j = 0; j < problem.Jobs.Count; j++)
        {
            for (var i = 0; i < problem.Jobs[j].Steps.Count; i++, number++)
            {
                Minutes[number] = problem.Jobs[j].Steps[i].Minutes;
                previousInJob[number] = i > 0 ? number - 1 : -1;
                nextInJob[number] = i + 1 < problem.Jobs[j].Steps.Count ? number + 1 : -1;
                var start = plan.Starts[j][i];
                onResource[problem.ResourceOf[j][i]].Add((start, start + Minutes[number], number));
            }
        }

        foreach (var list in onResource)
        {
            list.Sort();
            for (var k = 1; k < list.Count; k++)
            {
                Link(list[k - 1].Number, list[k].Number);
            }
        }

        if (!TryMeasure())
        {
            throw new ArgumentException("The plan does not keep to the order of the jobs.", nameof(plan));
        }
    }

    public int Count { get; }
    public int[] Minutes { get; }

    /// <summary>The neighbours on the resource.</summary>
    public int[] Before { get; }
    public int[] Behind { get; }

    /// <summary>Earliest start, and the longest way from the operation's end to the end of all.</summary>
    public long[] Head { get; }
    public long[] Tail { get; }

    public long Makespan { get; private set; }

    public int PreviousInJob(int operation) => previousInJob[operation];

    public int NextInJob(int operation) => nextInJob[operation];

    /// <summary>Takes the operation out and puts it in right behind or before the other; heads and tails are those of before until <see cref="TryMeasure"/>.</summary>
    public void Move(int operation, int other, bool isBehind)
    {
        Link(Before[operation], Behind[operation]);
        var (left, right) = isBehind ? (other, Behind[other]) : (Before[other], other);
        Link(left, operation);
        Link(operation, right);
    }

    /// <summary>Renews heads, tails and the end; false where the order has a circle and nothing of them holds.</summary>
    public bool TryMeasure()
    {
        var ready = 0;
        for (var o = 0; o < Count; o++)
        {
            waitsFor[o] = (PreviousInJob(o) >= 0 ? 1 : 0) + (Before[o] >= 0 ? 1 : 0);
            if (waitsFor[o] == 0)
            {
                order[ready++] = o;
            }
        }

        Makespan = 0;
        for (var k = 0; k < ready; k++)
        {
            var o = order[k];
            var (previous, before) = (PreviousInJob(o), Before[o]);
            var head = previous < 0 ? 0 : Head[previous] + Minutes[previous];
            Head[o] = before < 0 ? head : Math.Max(head, Head[before] + Minutes[before]);
            Makespan = Math.Max(Makespan, Head[o] + Minutes[o]);
            if (nextInJob[o] is var next and >= 0 && --waitsFor[next] == 0)
            {
                order[ready++] = next;
            }

            if (Behind[o] is var behind and >= 0 && --waitsFor[behind] == 0)
            {
                order[ready++] = behind;
            }
        }

        if (ready < Count)
        {
            return false;
        }

        for (var k = Count - 1; k >= 0; k--)
        {
            var o = order[k];
            var (next, behind) = (NextInJob(o), Behind[o]);
            var tail = next < 0 ? 0 : Tail[next] + Minutes[next];
            Tail[o] = behind < 0 ? tail : Math.Max(tail, Tail[behind] + Minutes[behind]);
        }

        return true;
    }

    /// <summary>One longest way from minute 0 to the end, drawn among equals; the list is used again by the next call.</summary>
    public IReadOnlyList<int> CriticalPath(Random random)
    {
        path.Clear();
        var (at, seen) = (-1, 0);
        for (var o = 0; o < Count; o++)
        {
            if (Head[o] == 0 && Minutes[o] + Tail[o] == Makespan && random.Next(++seen) == 0)
            {
                at = o;
            }
        }

        while (at >= 0)
        {
            path.Add(at);
            var end = Head[at] + Minutes[at];
            var (next, behind) = (nextInJob[at], Behind[at]);
            at =
                !IsNext(next, end) ? (IsNext(behind, end) ? behind : -1)
                : IsNext(behind, end) && random.Next(2) == 0 ? behind
                : next;
        }

        return path;

        bool IsNext(int operation, long end) =>
            operation >= 0 && Head[operation] == end && end + Minutes[operation] + Tail[operation] == Makespan;
    }

    /// <summary>The order alone, to come back to.</summary>
    public int[] Kept() => [.. Before, .. Behind];

    public void Restore(int[] kept)
    {
        kept.AsSpan(0, Count).CopyTo(Before);
        kept.AsSpan(Count).CopyTo(Behind);
        TryMeasure();
    }

    public JobShopPlan ToPlan(JobShopProblem problem)
    {
        var number = 0;
        return new JobShopPlan([.. problem.Jobs.Select(job => job.Steps.Select(_ => Head[number++]).ToArray())]);
    }

    private void Link(int left, int right)
    {
        if (left >= 0)
        {
            Behind[left] = right;
        }

        if (right >= 0)
        {
            Before[right] = left;
        }
    }
}
