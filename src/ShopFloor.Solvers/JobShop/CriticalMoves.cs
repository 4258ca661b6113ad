namespace ShopFloor.Solvers.JobShop;

/// <summary>An operation taken out of its resource's sequence and put in elsewhere on it.</summary>
/// <param name="Operation">The one that moves.</param>
/// <param name="Other">Right behind or right before which it comes to stand.</param>
/// <param name="IsBehind">Whether behind it (a move to later), else before it.</param>
/// <param name="Estimate">End of the longest way through what was moved: never more than the plan's new end, and nearly always it.</param>
internal readonly record struct CriticalMove(int Operation, int Other, bool IsBehind, long Estimate);

/// <summary>
/// Moves along the critical path that can shorten a plan: an operation of a block goes to the block's end or beginning, or one from there into it
/// (E. Balas, A. Vazacopoulos, Guided local search with shifting bottleneck for job shop scheduling, Management Science 44, 1998; C. Zhang and others,
/// A tabu search algorithm with a new neighborhood structure for the job shop scheduling problem, Computers &amp; Operations Research 34, 2007; both from memory).
/// </summary>
internal sealed class CriticalMoves(JobShopSequence sequence)
{
    private readonly List<CriticalMove> found = [];
    private readonly long[] head = new long[sequence.Count];
    private readonly long[] tail = new long[sequence.Count];

    /// <summary>All moves of the blocks of a critical path; the list is used again by the next call.</summary>
    public IReadOnlyList<CriticalMove> Along(IReadOnlyList<int> path)
    {
        found.Clear();
        for (var first = 0; first < path.Count; )
        {
            var last = first;
            while (last + 1 < path.Count && sequence.Behind[path[last]] == path[last + 1])
            {
                last++;
            }

            OfBlock(path, first, last, isFirst: first == 0, isLast: last == path.Count - 1);
            first = last + 1;
        }

        return found;
    }

    private void OfBlock(IReadOnlyList<int> path, int first, int last, bool isFirst, bool isLast)
    {
        // What stands first of all or last of all gains nothing by a change there.
        for (var k = first; k < last && !isLast; k++)
        {
            TryBehind(path[k], path[last]);
        }

        for (var k = first + 1; k <= last && !isFirst; k++)
        {
            TryBefore(path[k], path[first]);
        }

        for (var k = first + 1; k < last; k++)
        {
            if (!isFirst)
            {
                TryBehind(path[first], path[k]);
            }

            if (!isLast)
            {
                TryBefore(path[last], path[k]);
            }
        }
    }

    /// <summary>No circle can come about where the moved one's job goes on only after the other has begun to lead to the end.</summary>
    private void TryBehind(int operation, int other)
    {
        var next = sequence.NextInJob(operation);
        if (next >= 0 && sequence.Tail[next] + sequence.Minutes[next] > sequence.Tail[other] + sequence.Minutes[other])
        {
            return;
        }

        // Those between move up by one.
        var resourceFree = EndOf(sequence.Before[operation]);
        var moved = sequence.Behind[operation];
        while (true)
        {
            head[moved] = Math.Max(EndOf(sequence.PreviousInJob(moved)), resourceFree);
            resourceFree = head[moved] + sequence.Minutes[moved];
            if (moved == other)
            {
                break;
            }

            moved = sequence.Behind[moved];
        }

        head[operation] = Math.Max(EndOf(sequence.PreviousInJob(operation)), resourceFree);
        tail[operation] = Math.Max(WayFrom(next), WayFrom(sequence.Behind[other]));
        var longest = head[operation] + sequence.Minutes[operation] + tail[operation];
        var way = tail[operation] + sequence.Minutes[operation];
        for (moved = other; moved != operation; moved = sequence.Before[moved])
        {
            tail[moved] = Math.Max(WayFrom(sequence.NextInJob(moved)), way);
            way = tail[moved] + sequence.Minutes[moved];
            longest = Math.Max(longest, head[moved] + way);
        }

        found.Add(new(operation, other, IsBehind: true, longest));
    }

    private void TryBefore(int operation, int other)
    {
        var previous = sequence.PreviousInJob(operation);
        if (previous >= 0 && EndOf(previous) > EndOf(other))
        {
            return;
        }

        var way = WayFrom(sequence.Behind[operation]);
        var moved = sequence.Before[operation];
        while (true)
        {
            tail[moved] = Math.Max(WayFrom(sequence.NextInJob(moved)), way);
            way = tail[moved] + sequence.Minutes[moved];
            if (moved == other)
            {
                break;
            }

            moved = sequence.Before[moved];
        }

        tail[operation] = Math.Max(WayFrom(sequence.NextInJob(operation)), way);
        head[operation] = Math.Max(EndOf(previous), EndOf(sequence.Before[other]));
        var longest = head[operation] + sequence.Minutes[operation] + tail[operation];
        var resourceFree = head[operation] + sequence.Minutes[operation];
        for (moved = other; moved != operation; moved = sequence.Behind[moved])
        {
            head[moved] = Math.Max(EndOf(sequence.PreviousInJob(moved)), resourceFree);
            resourceFree = head[moved] + sequence.Minutes[moved];
            longest = Math.Max(longest, resourceFree + tail[moved]);
        }

        found.Add(new(operation, other, IsBehind: false, longest));
    }

    private long EndOf(int operation) => operation < 0 ? 0 : sequence.Head[operation] + sequence.Minutes[operation];

    private long WayFrom(int operation) => operation < 0 ? 0 : sequence.Tail[operation] + sequence.Minutes[operation];
}
