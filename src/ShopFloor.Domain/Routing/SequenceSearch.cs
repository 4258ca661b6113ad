using System.Numerics;

namespace ShopFloor.Domain.Routing;

/// <summary>The exact search behind the build-sequence check: is there an order in which the remaining operations can all be done?</summary>
/// <remarks>
/// Depth first, with a memo of states from which there is no way. A state is the set of operations left and the set of open ways, of which only those that
/// something left still needs are kept. More open ways never harm, so that a state is hopeless too when one with the same operations left and at least its ways open
/// was hopeless. Four reductions, each of them sound:
/// <list type="number">
/// <item>An operation that can be done now and never harms another is done at once. It harms none when every way that it closes is closed already or needed by no
/// other, and every way that it opens is needed by no other or closed by no other: then doing it now leaves, at every later point, at least the ways open that doing
/// it later would. (Closing nothing is not enough: what it opens early may be closed again before it is needed.)</item>
/// <item>A way that nothing left opens again orders things plainly: whoever closes it must wait for everybody else who needs it; if it is closed and needed, there is no way.</item>
/// <item>An operation for which none waits, which opens nothing that another needs, and whose own ways none of the others closes and are open or opened by one of
/// them, is done last: left out of any order of everything, it leaves an order of the rest, and after that order its ways are open.</item>
/// <item>Operations that share neither an order nor a way that still changes are solved apart.</item>
/// </list>
/// </remarks>
internal sealed class SequenceSearch
{
    private readonly OperationSet[] after;
    private readonly ulong[] needs;
    private readonly ulong[] closes;
    private readonly ulong[] opens;
    private readonly Dictionary<OperationSet, List<ulong>> hopeless = [];
    private readonly int stateLimit;
    private readonly CancellationToken cancellation;
    private int states;

    /// <summary>For each operation: those before it, and as bits the ways it needs, those closed after it (not opened again by itself) and those open after it. The search gives up after the given number of states.</summary>
    public SequenceSearch(
        OperationSet[] after,
        ulong[] needs,
        ulong[] closes,
        ulong[] opens,
        int stateLimit,
        CancellationToken cancellation
    )
    {
        (this.after, this.needs, this.closes, this.opens) = (after, needs, closes, opens);
        (this.stateLimit, this.cancellation) = (stateLimit, cancellation);
    }

    /// <summary>True when the limit was reached: "no" then means "not found".</summary>
    public bool GaveUp { get; private set; }

    /// <summary>Appends an order of <paramref name="left"/> to <paramref name="order"/>; on false the order is as it was.</summary>
    public bool TryFinish(OperationSet left, ulong open, List<int> order)
    {
        var mark = order.Count;
        DoHarmless(ref left, ref open, order);
        if (left.IsEmpty)
        {
            return true;
        }

        var last = TakeThoseForTheEnd(ref left, open);
        if (TrySearch(left, open & NeededBy(left), order))
        {
            order.AddRange(last);
            return true;
        }

        order.RemoveRange(mark, order.Count - mark);
        return false;
    }

    private bool TrySearch(OperationSet left, ulong open, List<int> order)
    {
        if (left.IsEmpty)
        {
            return true;
        }

        if (IsBeyondHope(left, open) || IsKnownHopeless(left, open) || !Spend())
        {
            return false;
        }

        if (
            Part(left, open) is { } part && part != left
                ? TryParts(left, part, open, order)
                : TryEach(left, open, order)
        )
        {
            return true;
        }

        if (!GaveUp)
        {
            RememberHopeless(left, open);
        }

        return false;
    }

    private bool IsKnownHopeless(OperationSet left, ulong open) =>
        hopeless.TryGetValue(left, out var known) && known.Exists(k => (open & ~k) == 0);

    private void RememberHopeless(OperationSet left, ulong open)
    {
        if (!hopeless.TryGetValue(left, out var known))
        {
            hopeless[left] = known = [];
        }

        known.RemoveAll(k => (k & ~open) == 0);
        known.Add(open);
    }

    private bool Spend()
    {
        cancellation.ThrowIfCancellationRequested();
        GaveUp = GaveUp || ++states > stateLimit;
        return !GaveUp;
    }

    private bool TryParts(OperationSet left, OperationSet part, ulong open, List<int> order) =>
        TryFinish(part, open, order) && TryFinish(left.Without(part), open, order);

    private bool TryEach(OperationSet left, ulong open, List<int> order)
    {
        foreach (var operation in Choices(left, open))
        {
            order.Add(operation);
            if (TryFinish(left.Without(operation), After(operation, open), order))
            {
                return true;
            }

            order.RemoveAt(order.Count - 1);
            if (GaveUp)
            {
                return false;
            }
        }

        return false;
    }

    /// <summary>What may be done next, those first that close the fewest ways still needed and open the most.</summary>
    private List<int> Choices(OperationSet left, ulong open)
    {
        var choices = new List<(int Operation, int Harm)>();
        var (needed, opened) = (TallyOf(needs, left), TallyOf(opens, left));
        foreach (var operation in left)
        {
            var wanted = needed.Without(needs[operation]);
            var shut = closes[operation] & wanted;
            if (CanStart(operation, left, open) && (shut & ~opened.Without(opens[operation])) == 0)
            {
                var harm = BitOperations.PopCount(shut & open);
                choices.Add((operation, (harm * 64) - BitOperations.PopCount(opens[operation] & ~open & wanted)));
            }
        }

        return [.. choices.OrderBy(c => c.Harm).Select(c => c.Operation)];
    }

    private void DoHarmless(ref OperationSet left, ref ulong open, List<int> order)
    {
        bool again;
        do
        {
            // Counted once a round: what was done meanwhile only makes the count too careful.
            again = false;
            var (needed, closed) = (TallyOf(needs, left), TallyOf(closes, left));
            foreach (var operation in left)
            {
                var wanted = needed.Without(needs[operation]);
                var isHarmless =
                    (closes[operation] & open & wanted) == 0
                    && (opens[operation] & wanted & closed.Without(closes[operation])) == 0;
                if (isHarmless && CanStart(operation, left, open))
                {
                    order.Add(operation);
                    left = left.Without(operation);
                    open = After(operation, open);
                    again = true;
                }
            }
        } while (again);
    }

    /// <summary>Takes out of <paramref name="left"/> what is done last, and gives it in the order in which it is done.</summary>
    private List<int> TakeThoseForTheEnd(ref OperationSet left, ulong open)
    {
        var last = new List<int>();
        bool again;
        do
        {
            // Counted once a round: what was taken out meanwhile only makes the count too careful, for it opens nothing that another needs.
            again = false;
            var before = default(OperationSet);
            foreach (var operation in left)
            {
                before |= after[operation];
            }

            var (needed, closed, opened) = (TallyOf(needs, left), TallyOf(closes, left), TallyOf(opens, left));
            foreach (var operation in left)
            {
                var atTheEnd = (open | opened.Without(opens[operation])) & ~closed.Without(closes[operation]);
                if (
                    !before.Contains(operation)
                    && (opens[operation] & needed.Without(needs[operation])) == 0
                    && (needs[operation] & ~atTheEnd) == 0
                )
                {
                    last.Add(operation);
                    left = left.Without(operation);
                    again = true;
                }
            }
        } while (again);
        last.Reverse();
        return last;
    }

    private bool CanStart(int operation, OperationSet left, ulong open) =>
        !after[operation].Overlaps(left) && (needs[operation] & ~open) == 0;

    private ulong After(int operation, ulong open) => (open & ~closes[operation]) | opens[operation];

    /// <summary>Even if nothing ever closed again, except that a way which nothing reopens must serve everybody before it is closed, something would be left over.</summary>
    private bool IsBeyondHope(OperationSet left, ulong open)
    {
        var reopened = OpenedBy(left);
        bool again;
        do
        {
            again = false;
            var needed = TallyOf(needs, left);
            foreach (var operation in left)
            {
                var shut = closes[operation] & ~reopened & needed.Without(needs[operation]);
                if (shut == 0 && CanStart(operation, left, open))
                {
                    left = left.Without(operation);
                    open |= opens[operation];
                    again = true;
                }
            }
        } while (again);
        return !left.IsEmpty;
    }

    /// <summary>The operations tied to the first one left, by order or by a way that may still change.</summary>
    private OperationSet Part(OperationSet left, ulong open)
    {
        var needed = NeededBy(left);
        var changing = needed & (ClosedBy(left) | (OpenedBy(left) & ~open));
        var first = left.GetEnumerator();
        first.MoveNext();
        var part = OperationSet.Of(first.Current);
        var before = after[first.Current];
        var ways = WaysOf(first.Current) & changing;
        bool grew;
        do
        {
            grew = false;
            foreach (var operation in left.Without(part))
            {
                if ((WaysOf(operation) & ways) != 0 || after[operation].Overlaps(part) || before.Contains(operation))
                {
                    part |= OperationSet.Of(operation);
                    before |= after[operation];
                    ways |= WaysOf(operation) & changing;
                    grew = true;
                }
            }
        } while (grew && part != left);
        return part;
    }

    private ulong WaysOf(int operation) => needs[operation] | closes[operation] | opens[operation];

    private ulong NeededBy(OperationSet set) => Union(needs, set);

    private ulong ClosedBy(OperationSet set) => Union(closes, set);

    private ulong OpenedBy(OperationSet set) => Union(opens, set);

    private static ulong Union(ulong[] ways, OperationSet set)
    {
        var all = 0UL;
        foreach (var operation in set)
        {
            all |= ways[operation];
        }

        return all;
    }

    private static Tally TallyOf(ulong[] ways, OperationSet set)
    {
        var tally = default(Tally);
        foreach (var operation in set)
        {
            tally = tally.And(ways[operation]);
        }

        return tally;
    }

    /// <summary>Ways named by at least one operation, and by at least two: enough to know those named by anybody else.</summary>
    private readonly record struct Tally(ulong Once, ulong Twice)
    {
        public Tally And(ulong ways) => new(Once | ways, Twice | (Once & ways));

        public ulong Without(ulong ways) => Twice | (Once & ~ways);
    }
}
