using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Inspection;

/// <summary>Work after which nobody can see any more what was to be looked at.</summary>
/// <param name="Point">Operation at which it is looked at, e.g. <c>150</c>.</param>
/// <param name="By">Operations that hide it, e.g. the paint.</param>
/// <param name="What">What is hidden, in a few words, e.g. <c>off-car welds</c>.</param>
public sealed record HiddenWork(string Point, IReadOnlyList<string> By, string What);

/// <summary>Proves against a route that each hold point comes before what hides the work, and that the hiding work waits for it to be passed.</summary>
/// <remarks>Common practice, no source: bare metal before plates, tacks and fit-up before weld, off-car welds before paint, floor and upper welds before primer, everything before trim.</remarks>
public static class HoldOrder
{
    /// <summary>A sentence for each hold point that the route lets pass too late or unpassed; it names both operations. Operations that the route does not have hide nothing.</summary>
    public static IReadOnlyList<FieldError> Problems(InspectionPlanDocument plan, RouteTemplate route)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(route);
        var order = new RouteOrder(route);
        var holds = plan
            .Lines.Where(l => l.Point == InspectionPoint.Hold)
            .Select(l => l.Operation)
            .ToHashSet(StringComparer.Ordinal);
        return
        [
            .. (plan.Hidden ?? [])
                .Where(h => holds.Contains(h.Point) && order.Has(h.Point))
                .SelectMany(h => h.By.Where(order.Has).Select(by => Problem(h, by, order)).OfType<string>())
                .Select(text => new FieldError("operations", text)),
        ];
    }

    private static string? Problem(HiddenWork hidden, string by, RouteOrder order)
    {
        var (point, hiding) = (order.Named(hidden.Point), order.Named(by));
        if (!order.IsBefore(hidden.Point, by))
        {
            return $"The hold point at {point} does not come before {hiding}, which hides what is looked at there ({hidden.What}). Let {by} wait for {hidden.Point}.";
        }

        return order.WaitsForHold(by, hidden.Point)
            ? null
            : $"{hiding} hides what is looked at at {point} ({hidden.What}), but nothing makes it wait until that hold point is passed. Give it a hold-point gate on {hidden.Point}.";
    }

    /// <summary>What must be done before what on a route, over any number of steps.</summary>
    private sealed class RouteOrder
    {
        private readonly Dictionary<string, RouteOperation> operations;
        private readonly Dictionary<string, HashSet<string>> before = new(StringComparer.Ordinal);

        public RouteOrder(RouteTemplate route) =>
            operations = route.Operations.DistinctBy(o => o.Code).ToDictionary(o => o.Code, StringComparer.Ordinal);

        public bool Has(string code) => operations.ContainsKey(code);

        public string Named(string code) => $"{code} ({operations[code].Title})";

        public bool IsBefore(string earlier, string later) => Before(later).Contains(earlier);

        /// <summary>The operation itself, or one that it must wait for, has an unconditional gate on the hold point.</summary>
        public bool WaitsForHold(string code, string point) =>
            Before(code)
                .Append(code)
                .Where(operations.ContainsKey)
                .SelectMany(c => operations[c].Gates)
                .Any(g => g.Kind == GateKind.HoldPoint && g.Operation == point && g.When is null);

        private HashSet<string> Before(string code)
        {
            if (before.TryGetValue(code, out var known))
            {
                return known;
            }

            var found = new HashSet<string>(StringComparer.Ordinal);
            var open = new Stack<string>([code]);
            while (open.TryPop(out var next))
            {
                if (operations.TryGetValue(next, out var operation))
                {
                    foreach (var earlier in operation.After.Where(found.Add))
                    {
                        open.Push(earlier);
                    }
                }
            }

            return before[code] = found;
        }
    }
}
