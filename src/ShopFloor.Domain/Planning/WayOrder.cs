using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Planning;

/// <summary>Turns one order in which a job can be built into plain "before" relations for its access ways.</summary>
/// <remarks>
/// A planner that keeps them finds every way open when it is needed, whatever it runs side by side. It gives up orders in which a way is closed and opened
/// in another sequence than in the one given: for a car that is built once, common practice gives only one. <see cref="PlanCheck"/> does not use them.
/// </remarks>
internal static class WayOrder
{
    /// <param name="order">Operations in an order that works, with their ways.</param>
    /// <returns>Pairs of ids: the first is over before the second begins.</returns>
    public static IReadOnlyList<(string First, string Second)> Of(IReadOnlyList<SequenceOperation> order)
    {
        var found = new HashSet<(string, string)>();
        for (var at = 0; at < order.Count; at++)
        {
            foreach (var way in order[at].NeedsOpen)
            {
                var opener = LastBefore(order, at, o => o.Opens.Contains(way));
                if (opener is { } opens)
                {
                    found.Add((order[opens].Id, order[at].Id));
                    if (LastBefore(order, opens, o => o.Closes.Contains(way)) is { } closed)
                    {
                        found.Add((order[closed].Id, order[opens].Id));
                    }
                }

                for (var later = at + 1; later < order.Count; later++)
                {
                    if (order[later].Closes.Contains(way))
                    {
                        found.Add((order[at].Id, order[later].Id));
                    }
                }
            }
        }

        return [.. found];
    }

    private static int? LastBefore(IReadOnlyList<SequenceOperation> order, int at, Func<SequenceOperation, bool> wanted)
    {
        for (var i = at - 1; i >= 0; i--)
        {
            if (wanted(order[i]))
            {
                return i;
            }
        }

        return null;
    }
}
