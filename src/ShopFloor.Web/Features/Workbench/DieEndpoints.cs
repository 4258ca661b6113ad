using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench.Dies;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>The shop's bender dies with their springback.</summary>
public sealed class DieEndpoints : IApiEndpoints
{
    public sealed record TrialBody(double? ReleasedDegrees = null, double? BentDegrees = null);

    public sealed record DieBody(
        string? Name = null,
        double? OutsideDiameterMm = null,
        double? CentrelineRadiusMm = null,
        double? MarkOffsetMm = null,
        double? ClampMm = null,
        IReadOnlyList<TrialBody?>? Trials = null,
        string? Note = null
    );

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/bender-dies", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The shop's dies: radius, straight they need, mark, springback trials; those in use first.")
            .Produces<IReadOnlyList<BenderDieView>>();
        api.MapPost("/bender-dies", AddAsync)
            .RequirePermission(Permission.KeepFigures)
            .WithSummary("Adds a die.")
            .Produces<BenderDieView>(201);
        api.MapPut("/bender-dies/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.KeepFigures)
            .WithSummary("Changes a die and its trials as a whole; figures that were saved with it stay.")
            .Produces<BenderDieView>();
        api.MapPost("/bender-dies/{id:guid}/retire", RetireAsync)
            .RequirePermission(Permission.KeepFigures)
            .WithSummary("The die is out of use: calculators offer it no more.")
            .Produces<BenderDieView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadBenderDies read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AddAsync(ApiCall call, Body<DieBody> body, KeepBenderDies keep) =>
        Request(body.Value).TryGet(out var request, out var failure)
            ? (await keep.AddAsync(request, call.Envelope(), call.Cancellation)).ToCreated(d =>
                $"{EndpointScan.ApiPrefix}/bender-dies#{d.Id}"
            )
            : failure.ToProblem();

    private static async Task<IResult> ChangeAsync(Guid id, ApiCall call, Body<DieBody> body, KeepBenderDies keep) =>
        Request(body.Value).TryGet(out var request, out var failure)
            ? (await keep.ChangeAsync(new BenderDieId(id), request, call.Envelope(), call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> RetireAsync(Guid id, ApiCall call, KeepBenderDies keep) =>
        (await keep.RetireAsync(new BenderDieId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static Outcome<KeepBenderDies.Request> Request(DieBody b)
    {
        var errors = new FieldErrors();
        var trials = (b.Trials ?? [])
            .Take(SpringbackTable.MostTrials + 1)
            .Select(
                (t, i) =>
                    new SpringbackReading(
                        errors.Figure(t?.ReleasedDegrees, $"trials[{i}].releasedDegrees", "The angle after release"),
                        errors.Figure(t?.BentDegrees, $"trials[{i}].bentDegrees", "The angle the bender stood at")
                    )
            )
            .ToList();
        return errors.Any
            ? errors.ToFailure()
            : new KeepBenderDies.Request(
                b.Name,
                b.OutsideDiameterMm,
                b.CentrelineRadiusMm,
                b.MarkOffsetMm,
                b.ClampMm,
                trials,
                b.Note
            );
    }
}
