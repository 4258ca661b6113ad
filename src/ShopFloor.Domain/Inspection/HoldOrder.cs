using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Inspection;

/// <summary>A line that a route lets come too late, or lets pass unlooked at.</summary>
/// <param name="Line">As the plan has it.</param>
/// <param name="By">The operation that hides what is looked at.</param>
/// <param name="IsTooLate">It does not come before that operation; else nothing makes the operation wait.</param>
/// <param name="Text">Names the line, the operation that hides it and what to change.</param>
public sealed record LateLine(PlannedLine Line, string By, bool IsTooLate, string Text);

/// <summary>Proves against a route that each line is looked at before what hides it, and that the hiding work waits for hold lines to be passed.</summary>
/// <remarks>Common practice, no source: bare metal before plates, tacks and fit-up before weld, off-car welds before paint, floor and upper welds before primer, everything before trim.</remarks>
public static class HoldOrder
{
    /// <summary>A sentence for each hold point that the route lets pass too late or unpassed; it names both operations. Operations that the route does not have hide nothing.</summary>
    public static IReadOnlyList<FieldError> Problems(InspectionPlanDocument plan, RouteTemplate route)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(route);
        return
        [
            .. Late(plan.Lines, route.Operations)
                .GroupBy(l => (l.Line.Operation, l.By, l.IsTooLate))
                .Select(g => new FieldError(
                    "operations",
                    g.First().Text + (g.Count() > 1 ? $" So do {g.Count() - 1} lines more." : "")
                )),
        ];
    }

    /// <summary>The same line by line.</summary>
    /// <param name="lines">Of a plan, or those of it that a job gets.</param>
    /// <param name="operations">Of a template, or of one job.</param>
    /// <param name="areOfOneJob">Conditions were settled when the job's route was drawn, so a gate that is left holds.</param>
    public static IReadOnlyList<LateLine> Late(
        IEnumerable<PlannedLine> lines,
        IReadOnlyList<RouteOperation> operations,
        bool areOfOneJob = false
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(operations);
        var order = new RouteOrder(operations, areOfOneJob);
        return
        [
            .. lines
                .Where(l => order.Has(l.Operation))
                .SelectMany(l =>
                    (l.HiddenBy ?? [])
                        .Distinct()
                        .Where(order.Has)
                        .Select(by => Problem(l, by, order))
                        .OfType<LateLine>()
                ),
        ];
    }

    private static LateLine? Problem(PlannedLine line, string by, RouteOrder order)
    {
        var (point, hiding) = (order.Named(line.Operation), order.Named(by));
        var isHold = line.Point == InspectionPoint.Hold;
        if (!order.IsBefore(line.Operation, by))
        {
            return new LateLine(
                line,
                by,
                true,
                $"The {(isHold ? "hold point" : "line")} at {point} does not come before {hiding}, which hides what is looked at there ({line.What}). Let {by} wait for {line.Operation}, or move the line to an operation before {by}."
            );
        }

        return !isHold || order.WaitsForHold(by, line.Operation)
            ? null
            : new LateLine(
                line,
                by,
                false,
                $"{hiding} hides what is looked at at {point} ({line.What}), but nothing makes it wait until that hold point is passed. Give it a hold-point gate on {line.Operation}."
            );
    }

    /// <summary>What must be done before what on a route, over any number of steps.</summary>
    private sealed class RouteOrder(IReadOnlyList<RouteOperation> route, bool isOfOneJob)
    {
        private readonly Dictionary<string, RouteOperation> operations = route
            .DistinctBy(o => o.Code)
            .ToDictionary(o => o.Code, StringComparer.Ordinal);
        private readonly Dictionary<string, HashSet<string>> before = new(StringComparer.Ordinal);

        public bool Has(string code) => operations.ContainsKey(code);

        public string Named(string code) => $"{code} ({operations[code].Title})";

        public bool IsBefore(string earlier, string later) => Before(later).Contains(earlier);

        /// <summary>The operation itself, or one that it must wait for, has a gate on the hold point that holds on every job.</summary>
        public bool WaitsForHold(string code, string point) =>
            Before(code)
                .Append(code)
                .Where(operations.ContainsKey)
                .SelectMany(c => operations[c].Gates)
                .Any(g => g.Kind == GateKind.HoldPoint && g.Operation == point && (isOfOneJob || g.When is null));

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
