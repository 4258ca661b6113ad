using System.Globalization;
using System.Text;

namespace ShopFloor.Benchmarks;

/// <summary>One call that is timed.</summary>
/// <param name="Body">Null for a GET.</param>
internal sealed record CalculatorCall(string Name, string Path, string? Body)
{
    private const string Root = "/api/v1/calculators/";
    private const string Notch =
        "\"branchOutsideDiameterMm\": 44.45, \"branchWallMm\": 2.413, \"headerOutsideDiameterMm\": 44.45, \"angleDegrees\": 52, \"offsetMm\": 0";

    /// <summary>An endpoint that does nothing.</summary>
    public static CalculatorCall Empty { get; } = new("empty endpoint", "/health/live", null);

    public static IReadOnlyList<CalculatorCall> All { get; } =
    [
        new("vin", Root + "vin/1M8GDM9AXKP042788", null),
        new("round-tube", Root + "round-tube", """{"outsideDiameterMm": 45, "wallMm": 2.5, "lengthMm": 6000}"""),
        new("bend", Root + "bend", """{"outsideDiameterMm": 45, "centrelineRadiusMm": 135, "angleDegrees": 90}"""),
        new("tube-path, 4 points", Root + "tube-path", Points(4)),
        new("tube-path, 100 points", Root + "tube-path", Points(100)),
        new("notch, 72 points", Root + "notch", $"{{{Notch}}}"),
        new("notch, 3,600 points", Root + "notch", $"{{{Notch}, \"pointCount\": 3600}}"),
        new(
            "hinge-cut",
            Root + "hinge-cut",
            """{"ends": [{"name": "front", "jointRootMm": 30, "bendTangentMm": 260, "insertLengthMm": 45, "bodyLengthMm": 63.5}]}"""
        ),
        new(
            "heat-input",
            Root + "heat-input",
            """{"process": "gmaw", "voltageV": 18, "currentA": 110, "travelSpeedMmPerS": 5}"""
        ),
        new("three-point", Root + "three-point", """{"items": [{"lowHours": 2, "likelyHours": 4, "highHours": 9}]}"""),
        new(
            "totals",
            Root + "totals",
            """{"currency": "EUR", "lines": [{"description": "Bar", "quantity": 2.5, "unitPriceMinor": 620, "taxCodes": ["s"]}], "taxes": [{"code": "s", "ratePercent": 20}]}"""
        ),
        new(
            "sequence-check",
            Root + "sequence-check",
            """{"ways": ["tilt"], "operations": [{"id": "a", "needsOpen": ["tilt"]}, {"id": "b", "after": ["a"], "closes": ["tilt"]}]}"""
        ),
    ];

    /// <summary>Sends it and takes its whole answer, which must be a good one.</summary>
    public async Task SendAsync(HttpClient api)
    {
        using var content = Body is null ? null : new StringContent(Body, Encoding.UTF8, "application/json");
        using var request = new HttpRequestMessage(Body is null ? HttpMethod.Get : HttpMethod.Post, Path)
        {
            Content = content,
        };
        using var answer = await api.SendAsync(request);
        answer.EnsureSuccessStatusCode();
    }

    private static string Points(int count)
    {
        var points = Enumerable
            .Range(0, count)
            .Select(i =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{{\"xMm\": {i * 500}, \"yMm\": {i % 2 * 300}, \"zMm\": {i % 3 * 200}}}"
                )
            );
        return $"{{\"outsideDiameterMm\": 40, \"wallMm\": 2, \"centrelineRadiusMm\": 120, \"points\": [{string.Join(',', points)}]}}";
    }
}
