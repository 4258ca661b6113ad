using ShopFloor.Application.Workbench.Sheets;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>All calculators of the workbench, in the order of their list.</summary>
public static class Benches
{
    public static IReadOnlyList<BenchSheet> All { get; } =
    [
        new NotchSheet(),
        new NodeSheet(),
        new TubeEndsSheet(),
        new TubePathSheet(),
        new BenderPointsSheet(),
        new BendSheet(),
        new HingeCutSheet(),
        new NestSheet(),
        new WeldRunSheet(),
        new RoundTubeSheet(),
        new AnglesSheet(),
    ];

    public static BenchSheet? Find(string? code) => All.FirstOrDefault(s => s.Code == code);

    /// <summary>The rack: each size as figures for two fields.</summary>
    internal static IReadOnlyList<BenchPreset> Rack(string diameter, string wall) =>
        [
            .. TubeSizes
                .Metric.Concat(TubeSizes.Inch)
                .Select(s => new BenchPreset(
                    s.Name,
                    new Dictionary<string, string>(StringComparer.Ordinal)
                    {
                        [diameter] = FormattableString.Invariant($"{s.OutsideDiameterMm:0.####} mm"),
                        [wall] = FormattableString.Invariant($"{s.WallMm:0.####} mm"),
                    }
                )),
        ];
}
