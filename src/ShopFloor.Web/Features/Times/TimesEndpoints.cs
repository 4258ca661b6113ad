using ShopFloor.Application.Common;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Times;

/// <summary>Times of people: one's own day, everybody's days, corrections with their trace.</summary>
public sealed class TimesEndpoints : IApiEndpoints
{
    public sealed record TapBody(
        string? Tap,
        string? Kind = null,
        string? Note = null,
        string? LeftAtClock = null,
        DateTimeOffset? OccurredAt = null
    );

    public static void Map(RouteGroupBuilder api)
    {
        var times = api.MapGroup("/times");
        times
            .MapGet("", DayAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("Everybody's times of one local day (on=YYYY-MM-DD, today where absent), by person.")
            .Produces<DayView>();
        times
            .MapGet("/forgotten", ForgottenAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("Running timers past the end of their shift or over the shop's hours, the longest first.")
            .Produces<IReadOnlyList<SpellView>>();
        times
            .MapGet("/mine", MineAsync)
            .RequirePermission(Permission.LogTime)
            .WithSummary("One's own day as it stands now.")
            .Produces<MyDayView>();
        times
            .MapPost("/taps", TapAsync)
            .RequirePermission(Permission.LogTime)
            .WithSummary(
                "Comes, goes, begins a break or a time without a job, comes back. Going and beginning stop one's timers on operations."
            )
            .Produces<ClockTap.Answer>();
        times
            .MapPost("", AddAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("Enters attendance, a break or a time without a job afterwards, with the reason.");
        times
            .MapPost("/{id:guid}/correct", CorrectAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("Puts attendance, a break or a time without a job right; the original stays in the trace.");
        var job = api.MapGroup("/jobs/{id:guid}");
        job.MapGet("/times", OfJobAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("The job's times with their trace.")
            .Produces<JobTimesView>();
        job.MapPost("/times/{time:guid}/correct", CorrectOfJobAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary(
                "Puts a time on an operation right; the original stays in the trace. A running one ends by it."
            )
            .Produces<JobTimesView>();
        job.MapPost("/from-paper", FromPaperAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary(
                "Types in a line that stood on paper while the server could not be reached: began and ended by the shop's clock, done or not. The rules are those of the taps; the time is marked."
            )
            .Produces<Application.Routing.OperationChanged>();
        job.MapPost("/operations/{code}/times", AddToJobAsync)
            .RequirePermission(Permission.KeepTimes)
            .WithSummary("Enters a time on an operation afterwards, with the reason.")
            .Produces<JobTimesView>();
        job.MapPost("/operations/{code}/still-on-it", ConfirmAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Answers the question about one's own long timer: still on it.")
            .Produces<JobTimesView>();
        job.MapPost("/operations/{code}/stopped-at", StoppedAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary(
                "Answers it otherwise: the timer ended at stoppedAt, or when the shop's clock first showed stoppedAtClock after the start."
            )
            .Produces<JobTimesView>();
    }

    private static async Task<IResult> DayAsync(DateOnly? on, ApiCall call, ReadTimes read) =>
        (await read.DayAsync(on, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ForgottenAsync(ApiCall call, ReadTimes read) =>
        (await read.ForgottenAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> MineAsync(ApiCall call, ReadTimes read) =>
        (await read.MineAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> TapAsync(ApiCall call, Body<TapBody> body, ClockTap tap) =>
        (
            await tap.RunAsync(
                new ClockTap.Request(body.Value.Tap, body.Value.Kind, body.Value.Note, body.Value.LeftAtClock),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> AddAsync(ApiCall call, Body<AddShopTime.Request> body, AddShopTime add) =>
        (await add.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            id => $"{EndpointScan.ApiPrefix}/times",
            id => new { id }
        );

    private static async Task<IResult> CorrectAsync(
        Guid id,
        ApiCall call,
        Body<CorrectShopTime.Request> body,
        CorrectShopTime correct
    ) => (await correct.RunAsync(new ShopTimeId(id), body.Value, call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> OfJobAsync(Guid id, ApiCall call, ReadTimes read) =>
        (await read.OfJobAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> CorrectOfJobAsync(
        Guid id,
        Guid time,
        ApiCall call,
        Body<CorrectJobTime.Request> body,
        CorrectJobTime correct
    ) =>
        (
            await correct.RunAsync(new JobId(id), new TimeEntryId(time), body.Value, call.Envelope(), call.Cancellation)
        ).ToHttp();

    private static async Task<IResult> AddToJobAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<AddJobTime.Request> body,
        AddJobTime add
    ) => (await add.RunAsync(new JobId(id), code, body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> FromPaperAsync(
        Guid id,
        ApiCall call,
        Body<EnterFromPaper.Request> body,
        EnterFromPaper enter
    ) => (await enter.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ConfirmAsync(Guid id, string code, ApiCall call, AnswerLongTimer answer) =>
        (await answer.ConfirmAsync(new JobId(id), code, call.Envelope(), call.Cancellation)).ToHttp(v => Own(v, call));

    private static async Task<IResult> StoppedAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<AnswerLongTimer.Request> body,
        AnswerLongTimer answer
    ) =>
        (await answer.StoppedAsync(new JobId(id), code, body.Value, call.Envelope(), call.Cancellation)).ToHttp(v =>
            Own(v, call)
        );

    /// <summary>Those who do not keep times see their own.</summary>
    internal static JobTimesView Own(JobTimesView times, ApiCall call) =>
        call.Actor.May(Permission.KeepTimes)
            ? times
            : times with
            {
                Spells = [.. times.Spells.Where(s => s.Person == call.Actor.Person)],
            };
}
