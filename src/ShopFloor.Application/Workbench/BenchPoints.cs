using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>Places in space and on plates, one a line.</summary>
internal static class BenchPoints
{
    /// <summary>Lines of three lengths: across, along, up.</summary>
    public static List<Point3> ReadPoints(this BenchReader read, string name, int most) =>
        [.. Rows(read, name, 3, most, "0; 150; 900").Select(r => new Point3(r[0], r[1], r[2]))];

    /// <summary>Lines of three lengths, and the radius of the point's bend where it has one of its own.</summary>
    public static (IReadOnlyList<Point3> Points, IReadOnlyList<double?>? Radii) ReadBends(
        this BenchReader read,
        string name,
        int most
    )
    {
        var rows = Rows(read, name, 3, most, "0; 150; 900", mayHaveMore: true);
        return (
            [.. rows.Select(r => new Point3(r[0], r[1], r[2]))],
            rows.Exists(r => r.Length > 3) ? [.. rows.Select(r => r.Length > 3 ? r[3] : (double?)null)] : null
        );
    }

    /// <summary>Lines of two lengths: across, up.</summary>
    public static List<PlatePoint> ReadCorners(this BenchReader read, string name, int most) =>
        [.. Rows(read, name, 2, most, "120; 100").Select(r => new PlatePoint(r[0], r[1]))];

    /// <summary>One line of three lengths; the origin where it cannot be read.</summary>
    public static Point3 ReadPoint(this BenchReader read, string name)
    {
        ArgumentNullException.ThrowIfNull(read);
        return read.ReadPoints(name, 1) is [var point] ? point : default;
    }

    /// <summary>The Domain's complaints about one of many places, said at the page's one field for them all.</summary>
    /// <param name="failure">What is wrong.</param>
    /// <param name="path">How the Domain calls them, e.g. <c>points</c>.</param>
    /// <param name="field">The page's field.</param>
    /// <param name="noun">How a person calls one, e.g. "Point".</param>
    public static Failure Placed(Failure failure, string path, string field, string noun) =>
        failure is Failure.Invalid invalid
            ? new Failure.Invalid([
                .. invalid
                    .Errors.Select(e =>
                        e.Path == path ? e with { Path = field }
                        : e.Path.StartsWith(path + "[", StringComparison.Ordinal)
                            ? new FieldError(field, $"{noun} {Number(e.Path, path)}: {e.Text}")
                        : e
                    )
                    .Take(10),
            ])
            : failure;

    private static List<double[]> Rows(
        BenchReader read,
        string name,
        int parts,
        int most,
        string example,
        bool mayHaveMore = false
    )
    {
        ArgumentNullException.ThrowIfNull(read);
        var rows = new List<double[]>();
        var lines = read.Text(name).Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        read.Errors.AddIf(lines.Length == 0, name, "Nothing stands here yet; write it like " + example + ".");
        read.Errors.AddIf(
            lines.Length > most,
            name,
            most == 1 ? "Give one point here." : $"At most {most} lines are taken."
        );
        foreach (var (line, i) in lines.Take(most).Select((l, i) => (l, i)))
        {
            var texts = line.Split(';', StringSplitOptions.TrimEntries);
            var lengths = new double[texts.Length];
            if (
                !(texts.Length == parts || (mayHaveMore && texts.Length == parts + 1))
                || texts.Where((t, at) => !LengthText.TryReadMm(t, read.Unit, out lengths[at])).Any()
            )
            {
                read.Errors.Add(
                    name,
                    $"Line {i + 1} is not {(parts == 2 ? "two" : "three")} lengths with semicolons between, such as {example}."
                );
                break;
            }

            rows.Add(lengths);
        }

        return rows;
    }

    private static int Number(string errorPath, string path) =>
        1
        + int.Parse(
            errorPath[(path.Length + 1)..errorPath.IndexOf(']', StringComparison.Ordinal)],
            CultureInfo.InvariantCulture
        );
}
