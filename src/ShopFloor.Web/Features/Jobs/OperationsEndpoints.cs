using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>Taps on one operation. Each may carry <c>occurredAt</c>, the device's time of the tap.</summary>
public sealed class OperationsEndpoints : IApiEndpoints
{
    public sealed record TapBody(DateTimeOffset? OccurredAt = null);

    public sealed record HoldBody(
        DateTimeOffset? OccurredAt = null,
        string? Reason = null,
        string? Note = null,
        Guid? PhotoId = null
    );

    /// <summary>Of the floor's script: what any of the taps may carry.</summary>
    public sealed record FloorBody(DateTimeOffset? OccurredAt = null, string? Reason = null, string? Note = null);

    public sealed record ResumeBody(DateTimeOffset? OccurredAt = null, bool? TakeUp = null);

    public static void Map(RouteGroupBuilder api)
    {
        var operation = api.MapGroup("/jobs/{id:guid}/operations/{code}");
        operation
            .MapPost("/start", StartAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Goes to work on the operation.")
            .Produces<OperationChanged>();
        operation
            .MapPost("/stop", StopAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Leaves the operation; the time stays.")
            .Produces<OperationChanged>();
        operation
            .MapPost("/finish", FinishAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("The operation is done.")
            .Produces<OperationChanged>();
        operation
            .MapPost("/undo-finish", UndoAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Takes a mistaken finish back within two minutes.")
            .Produces<OperationChanged>();
        operation
            .MapPost("/hold", HoldAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary(
                "Puts the operation on hold. The reason is a code of the shop's list (GET /hold-reasons; shipped: partMissing, materialMissing, questionToCustomer, defectFound, equipmentOutOfOrder, safetyConcern; always: other) or words; photoId names a photo of the job."
            )
            .Produces<OperationChanged>();
        operation
            .MapPost("/resume", ResumeAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Lifts the hold; those who work on the floor go on with the work unless takeUp is false.")
            .Produces<OperationChanged>();
        operation
            .MapPost("/not-needed", NotNeededAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("This car does not need the operation.")
            .Produces<OperationChanged>();
    }

    private static async Task<IResult> StartAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<TapBody> body,
        StartOperation start
    ) => (await start.RunAsync(new JobId(id), code, call.Envelope(body.Value.OccurredAt), call.Cancellation)).ToHttp();

    private static async Task<IResult> StopAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<TapBody> body,
        StopOperation stop
    ) => (await stop.RunAsync(new JobId(id), code, call.Envelope(body.Value.OccurredAt), call.Cancellation)).ToHttp();

    private static async Task<IResult> FinishAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<TapBody> body,
        FinishOperation finish
    ) => (await finish.RunAsync(new JobId(id), code, call.Envelope(body.Value.OccurredAt), call.Cancellation)).ToHttp();

    private static async Task<IResult> UndoAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<TapBody> body,
        UndoFinish undo
    ) => (await undo.RunAsync(new JobId(id), code, call.Envelope(body.Value.OccurredAt), call.Cancellation)).ToHttp();

    private static async Task<IResult> HoldAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<HoldBody> body,
        HoldOperation hold
    ) =>
        (
            await hold.RunAsync(
                new JobId(id),
                code,
                new HoldOperation.Request(body.Value.Reason, body.Value.Note, body.Value.PhotoId),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> ResumeAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<ResumeBody> body,
        ResumeOperation resume
    ) =>
        (
            await resume.RunAsync(
                new JobId(id),
                code,
                new ResumeOperation.Request(body.Value.TakeUp),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> NotNeededAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<SetOperationNotNeeded.Request> body,
        SetOperationNotNeeded notNeeded
    ) => (await notNeeded.RunAsync(new JobId(id), code, body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
