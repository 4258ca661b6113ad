using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Calculators of tubes and bends; nothing is stored.</summary>
public sealed class TubeEndpoints : IApiEndpoints
{
    public sealed record RoundTubeBody(
        double? OutsideDiameterMm,
        double? WallMm,
        double? DensityKgPerM3,
        double? LengthMm
    );

    public sealed record BendBody(double? OutsideDiameterMm, double? CentrelineRadiusMm, double? AngleDegrees);

    public sealed record PointBody(double? XMm, double? YMm, double? ZMm);

    public sealed record TubePathBody(
        double? OutsideDiameterMm,
        double? WallMm,
        double? CentrelineRadiusMm,
        [property: AtMost(TubePath.MostPoints)] IReadOnlyList<PointBody?>? Points
    );

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/calculators/round-tube", Section)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Section and mass of a round tube.")
            .Produces<RoundTubeFigures>();
        api.MapPost("/calculators/bend", Bend)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Arc, setback and ratio of one bend.")
            .Produces<TubeBendFigures>();
        api.MapPost("/calculators/tube-path", Path)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("From points in space to straights, bends, turns and marks.")
            .Produces<TubePathFigures>();
    }

    private static IResult Section(ApiCall call, Body<RoundTubeBody> body)
    {
        var errors = new FieldErrors();
        var input = new RoundTubeInput(
            errors.Figure(body.Value.OutsideDiameterMm, "outsideDiameterMm", "The outside diameter"),
            errors.Figure(body.Value.WallMm, "wallMm", "The wall"),
            body.Value.DensityKgPerM3 ?? RoundTube.SteelKgPerM3,
            body.Value.LengthMm
        );
        return errors.Answer(() => RoundTube.Calculate(input));
    }

    private static IResult Bend(ApiCall call, Body<BendBody> body)
    {
        var errors = new FieldErrors();
        var input = new TubeBendInput(
            errors.Figure(body.Value.OutsideDiameterMm, "outsideDiameterMm", "The outside diameter"),
            errors.Figure(body.Value.CentrelineRadiusMm, "centrelineRadiusMm", "The centreline radius"),
            errors.Figure(body.Value.AngleDegrees, "angleDegrees", "The bend angle")
        );
        return errors.Answer(() => TubeBend.Calculate(input));
    }

    private static IResult Path(ApiCall call, Body<TubePathBody> body)
    {
        var errors = new FieldErrors();
        errors.AddIf(body.Value.Points is null, "points", "The points are needed.");
        var points = (body.Value.Points ?? [])
            .Take(TubePath.MostPoints + 1)
            .Select(
                (p, i) =>
                    new Point3(
                        errors.Figure(p?.XMm, $"points[{i}].xMm", "x"),
                        errors.Figure(p?.YMm, $"points[{i}].yMm", "y"),
                        errors.Figure(p?.ZMm, $"points[{i}].zMm", "z")
                    )
            )
            .ToList();
        var input = new TubePathInput(
            errors.Figure(body.Value.OutsideDiameterMm, "outsideDiameterMm", "The outside diameter"),
            errors.Figure(body.Value.WallMm, "wallMm", "The wall"),
            errors.Figure(body.Value.CentrelineRadiusMm, "centrelineRadiusMm", "The centreline radius"),
            points
        );
        return errors.Answer(() => TubePath.Calculate(input));
    }
}
