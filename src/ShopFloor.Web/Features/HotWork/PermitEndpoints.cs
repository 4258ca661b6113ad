using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>Hot-work permits and fire watches. Times are the server's; a device's <c>occurredAt</c> moves none of them.</summary>
public sealed class PermitEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        var permits = api.MapGroup("/hot-work-permits");
        permits
            .MapGet("", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Permits, those not closed first; state is open, closed or all.");
        permits
            .MapGet("/checklist", Checklist)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The points that are walked before a permit is opened.");
        permits
            .MapGet("/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("One permit with its watch.")
            .Produces<PermitView>();
        permits
            .MapGet("/{id:guid}/card/pdf", PermitCardFile.CardAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The permit's card as a PDF; size is a4 or letter.");
        permits
            .MapPost("", OpenAsync)
            .RequirePermission(Permission.KeepFireWatch)
            .WithSummary(
                "Opens a permit for one place and shift; 409 with a reason for each point that is not as it must be."
            )
            .Produces<PermitView>(201);
        permits
            .MapPost("/{id:guid}/watcher", WatcherAsync)
            .RequirePermission(Permission.KeepFireWatch)
            .WithSummary("Another person takes the fire watch.")
            .Produces<PermitView>();
        permits
            .MapPost("/{id:guid}/sparks", SparksAsync)
            .RequirePermission(Permission.KeepFireWatch)
            .WithSummary("Sparks, smoke or a glow were seen: the watch begins anew.")
            .Produces<PermitView>();
        permits
            .MapPost("/{id:guid}/close", CloseAsync)
            .RequirePermission(Permission.KeepFireWatch)
            .WithSummary("The watcher confirms after the watch, by the server's clock, and closes the permit.")
            .Produces<PermitView>();
    }

    private static IResult Checklist() =>
        Results.Ok(
            new
            {
                points = PermitPoint.All.Select(p => new
                {
                    code = p.Code,
                    title = p.Title,
                    ofCar = p.OfCar,
                    mayBeNotHere = p.MayBeAbsent || p.OfCar,
                    mayBeAssessed = p.MayBeAssessed,
                }),
                whoDecides = FireWatch.WhoDecides,
            }
        );

    private static async Task<IResult> ListAsync(
        string? state,
        int? page,
        int? pageSize,
        ApiCall call,
        ReadPermits read
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.ListAsync(state, wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadPermits read) =>
        (await read.OneAsync(new HotWorkPermitId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OpenAsync(ApiCall call, Body<OpenPermit.Request> body, OpenPermit open) =>
        (await open.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(p =>
            $"{EndpointScan.ApiPrefix}/hot-work-permits/{p.Id}"
        );

    private static async Task<IResult> WatcherAsync(
        Guid id,
        ApiCall call,
        Body<HandFireWatch.Request> body,
        HandFireWatch hand
    ) => (await hand.RunAsync(new HotWorkPermitId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> SparksAsync(Guid id, ApiCall call, ReportSparks report) =>
        (await report.RunAsync(new HotWorkPermitId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> CloseAsync(
        Guid id,
        ApiCall call,
        Body<ClosePermit.Request> body,
        ClosePermit close
    ) => (await close.RunAsync(new HotWorkPermitId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
