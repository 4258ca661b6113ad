namespace ShopFloor.Solvers.Nesting;

/// <summary>The most valuable contents of one bar, each kind at most so often: by table where the bar is short in its unit, else by branch and bound.</summary>
internal sealed class Knapsack(IReadOnlyList<long> weights)
{
    private const long SmallTable = 400_000;
    private const long LargestTable = 40_000_000;
    private const int MostNodes = 200_000;

    /// <summary>Lifts what floating point may have rounded down, so that a bound by it stays a bound.</summary>
    public const double Above = 1 + 1e-12;

    private readonly int[] order = new int[weights.Count];
    private readonly double[] ratio = new double[weights.Count];
    private readonly int[] counts = new int[weights.Count];
    private readonly int[] bestCounts = new int[weights.Count];
    private long[] values = [];
    private IReadOnlyList<int> most = [];
    private long[] lightest = [];
    private int size;
    private int nodes;
    private long best;

    /// <param name="Value">Of the pieces.</param>
    /// <param name="UpperBound">No contents are worth more; the value itself unless the search was cut short.</param>
    public readonly record struct Result(IReadOnlyList<(int Kind, int Count)> Pieces, long Value, long UpperBound);

    public Result Solve(long[] worth, IReadOnlyList<int> atMost, long capacity)
    {
        (values, most) = (worth, atMost);
        size = 0;
        long chunks = 0;
        for (var i = 0; i < weights.Count; i++)
        {
            if (worth[i] > 0 && atMost[i] > 0 && weights[i] <= capacity)
            {
                order[size++] = i;
                ratio[i] = worth[i] / (double)weights[i] * Above;
                chunks += long.Log2(Math.Min(atMost[i], capacity / weights[i])) + 1;
            }
        }

        if (chunks * capacity <= SmallTable)
        {
            return ByTable((int)capacity);
        }

        if (ByBranching(capacity) is { } exact)
        {
            return exact;
        }

        if (chunks * capacity <= LargestTable)
        {
            return ByTable((int)capacity);
        }

        return new Result(Pieces(bestCounts), best, (long)(capacity * ratio[order[0]]) + 1);
    }

    private Result? ByBranching(long capacity)
    {
        Array.Sort(order, 0, size, Comparer<int>.Create((a, b) => ratio[b].CompareTo(ratio[a])));
        lightest = new long[size + 1];
        lightest[size] = long.MaxValue;
        for (var i = size - 1; i >= 0; i--)
        {
            lightest[i] = Math.Min(lightest[i + 1], weights[order[i]]);
        }

        Array.Clear(counts);
        Array.Clear(bestCounts);
        (best, nodes) = (0, 0);
        Branch(0, capacity, 0);
        return nodes < MostNodes ? new Result(Pieces(bestCounts), best, best) : null;
    }

    private void Branch(int at, long room, long value)
    {
        nodes++;
        if (value > best)
        {
            best = value;
            Array.Copy(counts, bestCounts, counts.Length);
        }

        while (at < size && weights[order[at]] > room)
        {
            at++;
        }

        if (at == size || nodes >= MostNodes || value + (long)(room * ratio[order[at]]) + 1 <= best)
        {
            return;
        }

        var kind = order[at];
        for (var count = (int)Math.Min(most[kind], room / weights[kind]); count >= 0 && nodes < MostNodes; count--)
        {
            counts[kind] = count;
            Branch(at + 1, room - (count * weights[kind]), value + (count * values[kind]));
        }

        counts[kind] = 0;
    }

    private Result ByTable(int capacity)
    {
        var worth = new long[capacity + 1];
        var taken = new List<(int Kind, int Count, bool[] At)>();
        for (var i = 0; i < size; i++)
        {
            var kind = order[i];
            var left = (int)Math.Min(most[kind], capacity / weights[kind]);
            for (var chunk = 1; left > 0; left -= chunk, chunk = Math.Min(chunk * 2, Math.Max(left, 1)))
            {
                var (weight, value, at) = ((int)(chunk * weights[kind]), chunk * values[kind], new bool[capacity + 1]);
                for (var room = capacity; room >= weight; room--)
                {
                    var with = worth[room - weight] + value;
                    if (with > worth[room])
                    {
                        worth[room] = with;
                        at[room] = true;
                    }
                }

                taken.Add((kind, chunk, at));
            }
        }

        Array.Clear(bestCounts);
        var now = capacity;
        for (var t = taken.Count - 1; t >= 0; t--)
        {
            if (taken[t].At[now])
            {
                bestCounts[taken[t].Kind] += taken[t].Count;
                now -= (int)(taken[t].Count * weights[taken[t].Kind]);
            }
        }

        return new Result(Pieces(bestCounts), worth[capacity], worth[capacity]);
    }

    private static List<(int, int)> Pieces(int[] found)
    {
        var pieces = new List<(int, int)>();
        for (var i = 0; i < found.Length; i++)
        {
            if (found[i] > 0)
            {
                pieces.Add((i, found[i]));
            }
        }

        return pieces;
    }
}
