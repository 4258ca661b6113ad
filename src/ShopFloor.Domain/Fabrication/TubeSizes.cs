namespace ShopFloor.Domain.Fabrication;

/// <summary>A size of tube as it is bought.</summary>
/// <param name="Name">As printed on the order: <c>45 × 2.5 mm</c>, <c>1 3/4 × 0.095 in</c>.</param>
/// <param name="WallGauge">Birmingham gauge of an inch wall (from memory); null for metric tube.</param>
public sealed record TubeSize(string Name, double OutsideDiameterMm, double WallMm, string? WallGauge);

/// <summary>Sizes of tube to choose from; a metric and an inch size are never the same one.</summary>
public static class TubeSizes
{
    private const double MmPerInch = Common.Length.MillimetresPerInch;

    public static IReadOnlyList<TubeSize> Metric { get; } =
    [Mm(25, 1.5), Mm(35, 2.5), Mm(38, 2.5), Mm(40, 2), Mm(45, 2.5), Mm(45, 3), Mm(50, 2)];

    public static IReadOnlyList<TubeSize> Inch { get; } =
    [
        In("1", 1, 0.065),
        In("1 1/4", 1.25, 0.095),
        In("1 3/8", 1.375, 0.080),
        In("1 1/2", 1.5, 0.095),
        In("1 1/2", 1.5, 0.120),
        In("1 5/8", 1.625, 0.083),
        In("1 5/8", 1.625, 0.120),
        In("1 3/4", 1.75, 0.083),
        In("1 3/4", 1.75, 0.095),
        In("1 3/4", 1.75, 0.120),
        In("1 3/4", 1.75, 0.134),
        In("2", 2, 0.083),
        In("2", 2, 0.120),
    ];

    private static TubeSize Mm(double diameter, double wall) =>
        new(FormattableString.Invariant($"{diameter:0.##} × {wall:0.0#} mm"), diameter, wall, null);

    private static TubeSize In(string diameter, double inches, double wall) =>
        new(
            FormattableString.Invariant($"{diameter} × {wall:0.000} in"),
            inches * MmPerInch,
            wall * MmPerInch,
            wall switch
            {
                0.065 => "16",
                0.083 => "14",
                0.095 => "13",
                0.120 => "11",
                0.134 => "10",
                _ => null,
            }
        );
}
