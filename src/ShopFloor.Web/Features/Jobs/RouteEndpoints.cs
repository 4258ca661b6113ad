using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>A job's route: what the build-sequence check says, what is awaited, what was decided.</summary>
public sealed class RouteEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/waits", WaitsAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("Everything the shop waits for: from whom, since when, the longest first.")
            .Produces<Page<WaitView>>();
        var job = api.MapGroup("/jobs/{id:guid}");
        job.MapGet("/route", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "What the build-sequence check says of the job, its access ways, and what was decided on its route."
            )
            .Produces<JobRouteView>();
        job.MapPost("/awaited", AwaitAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Operations wait for stock, or for work sent out (kind stock or sentOut).")
            .Produces<JobView>();
        job.MapPost("/awaited/{number:int}", EndAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Stock was reserved or received, work returned, or it was dropped.")
            .Produces<JobView>();
        job.MapPost("/owner-holds", StopAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("The owner stops the job, or some of its operations.")
            .Produces<JobView>();
        job.MapPost("/owner-holds/{number:int}/lift", LiftAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("The owner lets the job go on.")
            .Produces<JobView>();
        job.MapPost("/rework", ReworkAsync)
            .RequirePermission(Permission.OrderRework)
            .WithSummary("Puts rework on the route: an operation that mends another, with its own ways.")
            .Produces<JobView>();
        job.MapPost("/operations/{code}/present", PresentAsync)
            .RequirePermission(Permission.OrderRework)
            .WithSummary("A qualified or a second person is present (kind qualifiedPerson or secondPerson).")
            .Produces<JobView>();
        job.MapPost("/operations/{code}/override", OverrideAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("The owner lets the operation go on although the build-sequence check refuses it.")
            .Produces<OperationChanged>();
    }

    private static async Task<IResult> WaitsAsync(ApiCall call, ReadWaits read, int? page, int? pageSize) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.RunAsync(wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadJobRoute read) =>
        (await read.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AwaitAsync(
        Guid id,
        ApiCall call,
        Body<AwaitThing.Request> body,
        AwaitThing awaits
    ) => (await awaits.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> EndAsync(
        Guid id,
        int number,
        ApiCall call,
        Body<EndWait.Request> body,
        EndWait end
    ) => (await end.RunAsync(new JobId(id), number, body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> StopAsync(
        Guid id,
        ApiCall call,
        Body<StopJobByOwner.Request> body,
        StopJobByOwner stop
    ) => (await stop.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> LiftAsync(Guid id, int number, ApiCall call, LiftOwnerHold lift) =>
        (await lift.RunAsync(new JobId(id), number, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ReworkAsync(
        Guid id,
        ApiCall call,
        Body<AddRework.Request> body,
        AddRework rework
    ) => (await rework.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PresentAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<RecordPresence.Request> body,
        RecordPresence record
    ) => (await record.RunAsync(new JobId(id), code, body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> OverrideAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<OverrideSequence.Request> body,
        OverrideSequence over
    ) => (await over.RunAsync(new JobId(id), code, body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
