using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Jobs;

public sealed class JobsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Jobs by state (open, closed, cancelled, all), promised day and search.");
        api.MapPost("/jobs", OpenAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Opens the job of an accepted quote, with its route and inspection plan.")
            .Produces<JobView>(201);
        api.MapPost("/jobs/half-built", EnterAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary(
                "Takes over a car that is half built: operations done already, each with its day and minutes, and deposits paid before."
            )
            .Produces<JobView>(201);
        api.MapGet("/jobs/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("One job with its operations in route order, their gates, readings and balance.")
            .Produces<JobView>();
        api.MapPost("/jobs/{id:guid}/promise", PromiseAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Promises another day, with the reason.")
            .Produces<JobView>();
        api.MapPost("/jobs/{id:guid}/isolation", IsolationAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Records that a qualified person isolated the high-voltage system.")
            .Produces<JobView>();
        api.MapPost("/jobs/{id:guid}/cancel", CancelAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Ends a job unfinished: work done and material used are charged.")
            .Produces<JobView>();
    }

    private static async Task<IResult> ListAsync(
        ApiCall call,
        ReadJobs read,
        string? state,
        DateOnly? dueBy,
        string? search,
        int? page,
        int? pageSize
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (
                await read.ListAsync(new JobFilter(state, dueBy, search), wanted, call.Actor, call.Cancellation)
            ).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> OpenAsync(ApiCall call, Body<OpenJob.Request> body, OpenJob open) =>
        (await open.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(LocationOf);

    private static async Task<IResult> EnterAsync(
        ApiCall call,
        Body<EnterHalfBuiltCar.Request> body,
        EnterHalfBuiltCar enter
    ) => (await enter.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(LocationOf);

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadJobs read) =>
        (await read.OneAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> PromiseAsync(
        Guid id,
        ApiCall call,
        Body<MovePromiseDate.Request> body,
        MovePromiseDate move
    ) => (await move.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> IsolationAsync(
        Guid id,
        ApiCall call,
        Body<RecordIsolation.Request> body,
        RecordIsolation record
    ) => (await record.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> CancelAsync(
        Guid id,
        ApiCall call,
        Body<CancelJob.Request> body,
        CancelJob cancel
    ) => (await cancel.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static string LocationOf(JobView job) => $"{EndpointScan.ApiPrefix}/jobs/{job.Id}";
}
