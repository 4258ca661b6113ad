using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>The build-sequence check: can the remaining operations still all be done from here, and in which order?</summary>
public static class SequenceCheck
{
    /// <summary>States looked at before the answer is "not known": a second or so on networks made to be hard; a real route needs a handful.</summary>
    public const int DefaultStateLimit = 20_000;

    /// <summary>Answers exactly, or with null where the limit was reached; never a guess.</summary>
    /// <exception cref="ArgumentException">The plan has <see cref="SequencePlan.Problems"/>; look at those first.</exception>
    public static SequenceResult Run(
        SequencePlan plan,
        int stateLimit = DefaultStateLimit,
        CancellationToken cancellation = default
    )
    {
        if (plan.Problems() is [var problem, ..])
        {
            throw new ArgumentException(problem.Text, nameof(plan));
        }

        var network = new Network(plan);
        if (network.Cycle() is { Count: > 0 } cycle)
        {
            return new SequenceResult(false, [], null, cycle);
        }

        var search = network.Search(stateLimit, cancellation);
        var order = new List<int>();
        if (search.TryFinish(network.Left, network.Open, order))
        {
            return new SequenceResult(true, [.. order.Select(network.IdOf)], null, []);
        }

        return search.GaveUp
            ? new SequenceResult(null, [], null, [])
            : new SequenceResult(false, [], network.DeadEnd(), []);
    }

    /// <summary>The plan with its names turned into numbers.</summary>
    private sealed class Network
    {
        private readonly IReadOnlyList<SequenceOperation> operations;
        private readonly List<string> ways;
        private readonly OperationSet[] after;
        private readonly ulong[] needs;
        private readonly ulong[] closes;
        private readonly ulong[] opens;
        private readonly Dictionary<int, string> closedBy = [];

        public Network(SequencePlan plan)
        {
            operations = plan.Operations;
            ways =
            [
                .. plan
                    .OpenWays.Concat(operations.SelectMany(o => o.NeedsOpen.Concat(o.Closes).Concat(o.Opens)))
                    .Distinct(StringComparer.Ordinal),
            ];
            var wayIndex = Index(ways);
            var operationIndex = Index([.. operations.Select(o => o.Id)]);
            after = [.. operations.Select(o => Set(o.After.Select(a => operationIndex[a])))];
            needs = [.. operations.Select(o => Bits(o.NeedsOpen, wayIndex))];
            opens = [.. operations.Select(o => Bits(o.Opens, wayIndex))];
            closes = [.. operations.Select((o, i) => Bits(o.Closes, wayIndex) & ~opens[i])];
            Open = Bits(plan.OpenWays, wayIndex);
            Left = Set(Enumerable.Range(0, operations.Count));
            foreach (var index in plan.Done.Select(d => operationIndex[d]))
            {
                Open = Do(index, Open);
                Left = Left.Without(index);
            }
        }

        public OperationSet Left { get; }

        public ulong Open { get; }

        public string IdOf(int index) => operations[index].Id;

        public SequenceSearch Search(int stateLimit, CancellationToken cancellation) =>
            new(after, needs, closes, opens, stateLimit, cancellation);

        /// <summary>Follows the plan's order until nothing more can be done, harmless operations first.</summary>
        public DeadEnd DeadEnd()
        {
            var (left, open) = (Left, Open);
            var order = new List<string>();
            while (Next(left, open) is { } next)
            {
                open = Do(next, open);
                left = left.Without(next);
                order.Add(IdOf(next));
            }

            var reasons = new List<Reason>();
            foreach (var index in left)
            {
                reasons.Add(Lack(index, left, open));
            }

            var first = reasons.Find(r => r.Code == "accessWay") ?? reasons[0];
            return new DeadEnd(first.Operation!, order, [first, .. reasons.Where(r => r != first)]);
        }

        /// <summary>A circle of operations in <c>after</c>, done or not; empty if there is none.</summary>
        public List<string> Cycle()
        {
            var rest = Set(Enumerable.Range(0, operations.Count));
            bool again;
            do
            {
                again = false;
                foreach (var index in rest)
                {
                    if (!after[index].Overlaps(rest))
                    {
                        rest = rest.Without(index);
                        again = true;
                    }
                }
            } while (again);

            // Everything in the rest waits for something in the rest: walking backwards must meet itself.
            var path = new List<int>();
            var at = First(rest);
            while (at is { } index && !path.Contains(index))
            {
                path.Add(index);
                at = First(after[index] & rest);
            }

            if (at is not { } start)
            {
                return [];
            }

            path.RemoveRange(0, path.IndexOf(start));
            path.Reverse();
            return [.. path.Select(IdOf)];
        }

        private int? Next(OperationSet left, ulong open)
        {
            int? choice = null;
            foreach (var index in left)
            {
                if (after[index].Overlaps(left) || (needs[index] & ~open) != 0)
                {
                    continue;
                }

                var needed = 0UL;
                foreach (var other in left.Without(index))
                {
                    needed |= needs[other];
                }

                if ((closes[index] & open & needed) == 0)
                {
                    return index;
                }

                choice ??= index;
            }

            return choice;
        }

        private ulong Do(int index, ulong open)
        {
            for (var way = 0; way < ways.Count; way++)
            {
                var bit = 1UL << way;
                if ((closes[index] & open & bit) != 0)
                {
                    closedBy[way] = IdOf(index);
                }
            }

            return (open & ~closes[index]) | opens[index];
        }

        private Reason Lack(int index, OperationSet left, ulong open)
        {
            var id = IdOf(index);
            var closed = Enumerable.Range(0, ways.Count).Where(w => (needs[index] & ~open & (1UL << w)) != 0).ToList();
            if (closed.Count > 0)
            {
                var list = string.Join(
                    ", ",
                    closed.Select(w =>
                        closedBy.TryGetValue(w, out var by)
                            ? $"{ways[w]} (closed by {by})"
                            : $"{ways[w]} (never opened)"
                    )
                );
                return new Reason("accessWay", $"{id} needs open: {list}.", id);
            }

            var earlier = new List<string>();
            foreach (var other in after[index] & left)
            {
                earlier.Add(IdOf(other));
            }

            return new Reason("operation", $"{id} comes after {string.Join(", ", earlier)}, not done.", id);
        }

        private static int? First(OperationSet set)
        {
            foreach (var index in set)
            {
                return index;
            }

            return null;
        }

        private static Dictionary<string, int> Index(List<string> names) =>
            names.Select((name, i) => (name, i)).ToDictionary(p => p.name, p => p.i, StringComparer.Ordinal);

        private static ulong Bits(IEnumerable<string> names, Dictionary<string, int> index) =>
            names.Aggregate(0UL, (bits, name) => bits | (1UL << index[name]));

        private static OperationSet Set(IEnumerable<int> indices) =>
            indices.Aggregate(default(OperationSet), (set, i) => set | OperationSet.Of(i));
    }
}
