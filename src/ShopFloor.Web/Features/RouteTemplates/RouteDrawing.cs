using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>Where a route's operations stand in the drawing: columns by how many operations must come before, bands by phase.</summary>
/// <param name="Width">Of the drawing, in pixels.</param>
/// <param name="Height">Of the drawing, in pixels.</param>
/// <param name="Layers">Columns.</param>
public sealed record RouteDrawing(
    int Width,
    int Height,
    int Layers,
    IReadOnlyList<RouteDrawing.Band> Bands,
    IReadOnlyList<RouteDrawing.Node> Nodes,
    IReadOnlyList<RouteDrawing.Line> Lines
)
{
    public const int NodeWidth = 62;
    public const int NodeHeight = 38;
    private const int Column = NodeWidth + 26;
    private const int Row = NodeHeight + 12;
    private const int Left = 110;

    public sealed record Band(Phase Phase, int Top, int Height, bool IsOdd);

    public sealed record Node(RouteOperation Operation, int X, int Y);

    public sealed record Line(string Path, bool IsGate);

    public static RouteDrawing Empty { get; } = new(0, 0, 0, [], [], []);

    public static RouteDrawing Of(IReadOnlyList<RouteOperation> operations)
    {
        ArgumentNullException.ThrowIfNull(operations);
        var all = operations.DistinctBy(o => o.Code).ToList();
        var layers = LayersOf(all);
        var nodes = new List<Node>();
        var bands = new List<Band>();
        var top = 0;
        foreach (var phase in all.GroupBy(o => o.Phase).OrderBy(g => g.Key))
        {
            var rows = new Dictionary<int, int>();
            var deepest = 0;
            foreach (var operation in phase)
            {
                var layer = layers[operation.Code];
                var row = rows.GetValueOrDefault(layer);
                rows[layer] = row + 1;
                deepest = Math.Max(deepest, row + 1);
                nodes.Add(new Node(operation, Left + (layer * Column), top + 10 + (row * Row)));
            }

            var height = (deepest * Row) + 10;
            bands.Add(new Band(phase.Key, top, height, bands.Count % 2 == 1));
            top += height;
        }

        var count = all.Count == 0 ? 0 : layers.Values.Max() + 1;
        var byCode = nodes.ToDictionary(n => n.Operation.Code, StringComparer.Ordinal);
        return new RouteDrawing(
            Left + (count * Column),
            top,
            count,
            bands,
            nodes,
            [.. nodes.SelectMany(n => LinesInto(n, byCode))]
        );
    }

    /// <summary>An inspector does it.</summary>
    public static bool IsInspection(RouteOperation operation) => operation?.Skill == Operation.InspectorSkill;

    private static IEnumerable<Line> LinesInto(Node to, Dictionary<string, Node> byCode)
    {
        foreach (var from in to.Operation.After.Where(byCode.ContainsKey).Select(c => byCode[c]))
        {
            yield return new Line(PathOf(from, to), false);
        }

        foreach (
            var from in to
                .Operation.Gates.Where(g =>
                    g.Operation is { } code && byCode.ContainsKey(code) && !to.Operation.After.Contains(code)
                )
                .Select(g => byCode[g.Operation!])
        )
        {
            yield return new Line(PathOf(from, to), true);
        }
    }

    private static string PathOf(Node from, Node to)
    {
        var (x1, y1) = (from.X + NodeWidth, from.Y + (NodeHeight / 2));
        var (x2, y2) = (to.X - 2, to.Y + (NodeHeight / 2));
        var bend = Math.Max(14, (x2 - x1) / 2);
        return string.Create(CultureInfo.InvariantCulture, $"M{x1} {y1}C{x1 + bend} {y1} {x2 - bend} {y2} {x2} {y2}");
    }

    /// <summary>The longest chain of operations before each; operations in a circle, which a draft may have, stay where the counting stops.</summary>
    private static Dictionary<string, int> LayersOf(List<RouteOperation> operations)
    {
        var layers = operations.ToDictionary(o => o.Code, _ => 0, StringComparer.Ordinal);
        for (var pass = 0; pass < operations.Count; pass++)
        {
            var moved = false;
            foreach (var operation in operations)
            {
                var layer = operation.After.Where(layers.ContainsKey).Select(a => layers[a] + 1).Append(0).Max();
                if (layer > layers[operation.Code] && layer < operations.Count)
                {
                    layers[operation.Code] = layer;
                    moved = true;
                }
            }

            if (!moved)
            {
                break;
            }
        }

        return layers;
    }
}

internal static class RouteOperationLook
{
    public static bool IsInspected(this RouteOperation operation) => RouteDrawing.IsInspection(operation);
}
