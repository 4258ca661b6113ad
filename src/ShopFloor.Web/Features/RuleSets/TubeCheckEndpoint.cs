using System.Text.Json.Serialization;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.TubeCheck;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Holds a tube against a rule set; nothing is stored.</summary>
public sealed class TubeCheckEndpoint : IApiEndpoints
{
    public sealed record SizeBody(decimal? Diameter, decimal? Wall, string? Unit);

    public sealed record MeasuredBody(
        decimal? Diameter,
        decimal? Wall,
        decimal? DiameterTolerance,
        decimal? WallTolerance
    );

    public sealed record MaterialBody(
        string? Make,
        string? Grade,
        string? Certificate,
        [property: JsonPropertyName("yieldNPerMm2")] decimal? YieldNPerMm2,
        [property: JsonPropertyName("tensileNPerMm2")] decimal? TensileNPerMm2,
        decimal? CarbonPercent,
        decimal? ManganesePercent,
        decimal? OthersPercent
    );

    public sealed record BendBody(
        decimal? CentrelineRadius,
        decimal? MajorDiameter,
        decimal? MinorDiameter,
        bool? HasWrinkles
    );

    public sealed record TubeBody(
        string? Figure,
        SizeBody? Ordered,
        MeasuredBody? Measured,
        MaterialBody? Material,
        [property: AtMost(TubeComparison.MostBends)] IReadOnlyList<BendBody?>? Bends
    );

    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/rule-sets/{code}/tube-check", CheckAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "Holds a tube against the rule set's printed sizes, material and bends; metric and inch apart. Without version the newest counts."
            )
            .Produces<TubeCheckView>();

    private static async Task<IResult> CheckAsync(
        string code,
        int? version,
        ApiCall call,
        Body<TubeBody> body,
        CheckTube check
    )
    {
        var errors = new FieldErrors();
        var tube = Read(body.Value, errors);
        return errors.Any
            ? errors.ToFailure().ToProblem()
            : (await check.RunAsync(code, version, tube, call.Actor, call.Cancellation)).ToHttp();
    }

    private static TubeUnderCheck Read(TubeBody body, FieldErrors errors)
    {
        errors.AddIf(body.Figure is null, "figure", "Name the part: the code of a figure with sizes.");
        return new TubeUnderCheck(
            body.Figure ?? "",
            new TubeSize(
                Needed(body.Ordered?.Diameter, "ordered.diameter", "The outside diameter", errors),
                Needed(body.Ordered?.Wall, "ordered.wall", "The wall", errors),
                body.Ordered?.Unit ?? ""
            ),
            body.Measured is not { } m
                ? null
                : new MeasuredTube(
                    Needed(m.Diameter, "measured.diameter", "The measured diameter", errors),
                    Needed(m.Wall, "measured.wall", "The measured wall", errors),
                    Needed(m.DiameterTolerance, "measured.diameterTolerance", "The diameter's tolerance", errors),
                    Needed(m.WallTolerance, "measured.wallTolerance", "The wall's tolerance", errors)
                ),
            Material(body.Material, errors),
            [
                .. (body.Bends ?? [])
                    .Take(TubeComparison.MostBends + 1)
                    .Select(
                        (b, i) =>
                            new CheckedBend(
                                Needed(b?.CentrelineRadius, $"bends[{i}].centrelineRadius", "The radius", errors),
                                b?.MajorDiameter,
                                b?.MinorDiameter,
                                b?.HasWrinkles
                            )
                    ),
            ]
        );
    }

    private static TubeMaterial Material(MaterialBody? body, FieldErrors errors)
    {
        errors.AddIf(
            body?.Make is not (null or "seamless" or "welded"),
            "material.make",
            "The make is seamless or welded; leave it out where nobody knows."
        );
        return new TubeMaterial(
            body?.Make switch
            {
                "seamless" => TubeMake.Seamless,
                "welded" => TubeMake.Welded,
                _ => null,
            },
            body?.Grade,
            body?.Certificate,
            body?.YieldNPerMm2,
            body?.TensileNPerMm2,
            body?.CarbonPercent,
            body?.ManganesePercent,
            body?.OthersPercent
        );
    }

    private static decimal Needed(decimal? value, string path, string label, FieldErrors errors)
    {
        errors.AddIf(value is null, path, $"{label} is needed.");
        return value ?? 0;
    }
}
