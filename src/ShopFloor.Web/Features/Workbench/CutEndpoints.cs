using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Calculators of notches, hinge cuts and weld heat; nothing is stored.</summary>
public sealed class CutEndpoints : IApiEndpoints
{
    internal static readonly IReadOnlyList<(string Word, NotchEdge Value)> Edges =
    [
        ("seat", NotchEdge.Seat),
        ("inside", NotchEdge.Inside),
        ("outside", NotchEdge.Outside),
    ];

    internal static readonly IReadOnlyList<(string Word, HingePlace Value)> Places =
    [
        ("centre", HingePlace.Centre),
        ("nearJoint", HingePlace.NearJoint),
        ("nearBend", HingePlace.NearBend),
    ];

    internal static readonly IReadOnlyList<(string Word, WeldProcess Value)> Processes =
    [
        ("gmaw", WeldProcess.Gmaw),
        ("gtaw", WeldProcess.Gtaw),
        ("smaw", WeldProcess.Smaw),
        ("fcaw", WeldProcess.Fcaw),
        ("saw", WeldProcess.Saw),
    ];

    public sealed record NotchBody(
        double? BranchOutsideDiameterMm,
        double? BranchWallMm,
        double? HeaderOutsideDiameterMm,
        double? AngleDegrees,
        double? OffsetMm,
        string? Edge,
        int? PointCount
    );

    public sealed record EndBody(
        string? Name,
        double? JointRootMm,
        double? BendTangentMm,
        double? InsertLengthMm,
        double? BodyLengthMm,
        double? ClearanceMm,
        string? Prefer
    );

    public sealed record HingeCutBody([property: AtMost(HingeCut.MostEnds)] IReadOnlyList<EndBody?>? Ends);

    public sealed record HeatInputBody(string? Process, double? VoltageV, double? CurrentA, double? TravelSpeedMmPerS);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/calculators/notch", NotchCurveOf)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The curve at the end of a tube that sits on the side of another.")
            .Produces<NotchFigures>();
        api.MapPost("/calculators/hinge-cut", HingeCuts)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Where a door bar is cut for its hinges, or why they do not fit.")
            .Produces<HingeCutFigures>();
        api.MapPost("/calculators/heat-input", Heat)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Heat input of an arc weld.")
            .Produces<HeatInputFigures>();
    }

    private static IResult NotchCurveOf(ApiCall call, Body<NotchBody> body)
    {
        var errors = new FieldErrors();
        var value = body.Value;
        var input = new NotchInput(
            errors.Figure(value.BranchOutsideDiameterMm, "branchOutsideDiameterMm", "The branch's outside diameter"),
            errors.Figure(value.BranchWallMm, "branchWallMm", "The branch's wall"),
            errors.Figure(value.HeaderOutsideDiameterMm, "headerOutsideDiameterMm", "The header's outside diameter"),
            errors.Figure(value.AngleDegrees, "angleDegrees", "The angle between the tubes"),
            value.OffsetMm ?? 0,
            errors.Word(value.Edge, "edge", Edges, isOptional: true),
            value.PointCount ?? Notch.UsualPoints
        );
        return errors.Answer(() => Notch.Calculate(input));
    }

    private static IResult HingeCuts(ApiCall call, Body<HingeCutBody> body)
    {
        var errors = new FieldErrors();
        errors.AddIf(body.Value.Ends is null, "ends", "The ends are needed.");
        var ends = (body.Value.Ends ?? [])
            .Take(HingeCut.MostEnds + 1)
            .Select((end, i) => End(end, $"ends[{i}]", errors))
            .ToList();
        return errors.Answer(() => HingeCut.Calculate(ends));
    }

    private static HingeEnd End(EndBody? end, string path, FieldErrors errors)
    {
        errors.AddIf(end?.Name is null, path + ".name", "The name of the end is needed.");
        return new HingeEnd(
            end?.Name ?? "",
            errors.Figure(end?.JointRootMm, path + ".jointRootMm", "The joint root"),
            errors.Figure(end?.BendTangentMm, path + ".bendTangentMm", "The bend's tangent point"),
            errors.Figure(end?.InsertLengthMm, path + ".insertLengthMm", "The insert's length"),
            errors.Figure(end?.BodyLengthMm, path + ".bodyLengthMm", "The body's length"),
            end?.ClearanceMm ?? 0,
            errors.Word(end?.Prefer, path + ".prefer", Places, isOptional: true)
        );
    }

    private static IResult Heat(ApiCall call, Body<HeatInputBody> body)
    {
        var errors = new FieldErrors();
        var input = new HeatInputInput(
            errors.Word(body.Value.Process, "process", Processes, isOptional: false),
            errors.Figure(body.Value.VoltageV, "voltageV", "The voltage"),
            errors.Figure(body.Value.CurrentA, "currentA", "The current"),
            errors.Figure(body.Value.TravelSpeedMmPerS, "travelSpeedMmPerS", "The travel speed")
        );
        return errors.Answer(() => HeatInput.Calculate(input));
    }
}
