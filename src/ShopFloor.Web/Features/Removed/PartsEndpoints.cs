using ShopFloor.Application.Common;
using ShopFloor.Application.Removed;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Removed;

/// <summary>What came out of a car, and where car, keys and parts are.</summary>
public sealed class PartsEndpoints : IApiEndpoints
{
    public sealed record PartBody(
        string? What = null,
        string? TakenFrom = null,
        int? Fasteners = null,
        string? Place = null,
        Guid? PhotoId = null,
        DateTimeOffset? OccurredAt = null
    );

    public sealed record PlaceBody(string? Place = null, DateTimeOffset? OccurredAt = null);

    public sealed record RefitBody(int? FastenersBack = null, string? Note = null, DateTimeOffset? OccurredAt = null);

    public sealed record LeaveBody(bool HandedOver = false, string? Reason = null);

    public sealed record AgainBody(DateTimeOffset? OccurredAt = null);

    public sealed record WhereBody(string? Car = null, string? Keys = null, DateTimeOffset? OccurredAt = null);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/removed-parts", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("What came out of the car, with labels and places, and where the car and its keys are.")
            .Produces<CarThings>();
        api.MapPost("/jobs/{id:guid}/removed-parts", OutAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("A part comes out of the car.")
            .Produces<PartOutView>(201);
        api.MapPost("/removed-parts/{id:guid}/move", MoveAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("The part lies somewhere else.")
            .Produces<PartOutView>();
        api.MapPost("/removed-parts/{id:guid}/refit", RefitAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("The part is back in the car; a note says why fasteners differ.")
            .Produces<PartOutView>();
        api.MapPost("/removed-parts/{id:guid}/out-again", AgainAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("Ticked off by mistake, or out once more.")
            .Produces<PartOutView>();
        api.MapPost("/removed-parts/{id:guid}/leave-out", LeaveAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The owner records that the part does not go back: handed over apart, or not refitted.")
            .Produces<PartOutView>();
        api.MapPost("/jobs/{id:guid}/whereabouts", WhereAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("Notes where the car and its keys are in the shop.")
            .Produces<CarThings>();
        api.MapGet("/jobs/{id:guid}/removed-parts/labels/pdf", PartLabelsFile.LabelsAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Labels with QR codes for what is out of the car; size is a4 or letter.");
    }

    private static async Task<IResult> ListAsync(Guid id, ApiCall call, ReadCarThings read) =>
        (await read.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OutAsync(Guid id, ApiCall call, Body<PartBody> body, TakePartOut take)
    {
        var b = body.Value;
        var request = new TakePartOut.Request(b.What, b.TakenFrom, b.Fasteners, b.Place, b.PhotoId);
        return (await take.RunAsync(new JobId(id), request, call.Envelope(b.OccurredAt), call.Cancellation)).ToCreated(
            p => $"{EndpointScan.ApiPrefix}/jobs/{id}/removed-parts#{p.Number}"
        );
    }

    private static async Task<IResult> MoveAsync(Guid id, ApiCall call, Body<PlaceBody> body, MovePart move) =>
        (
            await move.RunAsync(
                new PartOutId(id),
                new(body.Value.Place),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> RefitAsync(Guid id, ApiCall call, Body<RefitBody> body, RefitPart refit) =>
        (
            await refit.RunAsync(
                new PartOutId(id),
                new(body.Value.FastenersBack, body.Value.Note),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> AgainAsync(
        Guid id,
        ApiCall call,
        Body<AgainBody> body,
        TakePartOutAgain again
    ) => (await again.RunAsync(new PartOutId(id), call.Envelope(body.Value.OccurredAt), call.Cancellation)).ToHttp();

    private static async Task<IResult> LeaveAsync(Guid id, ApiCall call, Body<LeaveBody> body, LeavePartOut leave) =>
        (
            await leave.RunAsync(
                new PartOutId(id),
                new(body.Value.HandedOver, body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> WhereAsync(Guid id, ApiCall call, Body<WhereBody> body, NoteWhereabouts note) =>
        (
            await note.RunAsync(
                new JobId(id),
                new(body.Value.Car, body.Value.Keys),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();
}

/// <summary>The labels for people who are signed in.</summary>
public sealed class PartLabelsFile : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/jobs/{id:guid}/removed-parts/labels/pdf", LabelsAsync).RequirePermission(Permission.SeeFloor);

    internal static Task<IResult> LabelsAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintPartLabels print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s => print.RunAsync(new JobId(id), $"{settings.PublicUrl}/floor/jobs/{id}/parts", s, Actors.Of(http), ct)
        );
}
