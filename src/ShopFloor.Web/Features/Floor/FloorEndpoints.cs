using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Jobs;
using ShopFloor.Web.Features.Photos;
using ShopFloor.Web.Features.Times;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Floor;

/// <summary>What the floor pages' script calls: signed in by cookie, guarded by the antiforgery header, each tap with its idempotency key.</summary>
public sealed class FloorEndpoints : IEndpoints
{
    /// <summary>Who is signed in on this device, and the token that commands carry in <c>X-CSRF-TOKEN</c>.</summary>
    public sealed record Session(string? Token, PersonId? Person);

    public sealed record StoppedBody(DateTimeOffset? OccurredAt = null, string? StoppedAtClock = null);

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/floor/session", SessionOf).RequirePermission(Permission.SeeFloor);
        app.MapGet("/floor/changes", FloorChanges.StreamAsync).RequirePermission(Permission.SeeFloor);
        app.MapPost("/floor/day", DayAsync)
            .AddEndpointFilter<ApiFilter>()
            .AddEndpointFilter(CheckTokenAsync)
            .RequirePermission(Permission.LogTime);
        var commands = app.MapGroup("/floor/jobs/{id:guid}")
            .AddEndpointFilter<ApiFilter>()
            .AddEndpointFilter(CheckTokenAsync);
        commands.MapPost("/operations/{code}/still-on-it", StillOnItAsync).RequirePermission(Permission.Inspect);
        commands.MapPost("/operations/{code}/stopped-at", StoppedAtAsync).RequirePermission(Permission.Inspect);
        commands.MapPost("/operations/{code}/{tap}", TapAsync).RequirePermission(Permission.Inspect);
        commands
            .MapPost("/operations/{code}/hold-with-photo", HoldWithPhotoAsync)
            .RequirePermission(Permission.Inspect)
            .DisableAntiforgery();
        commands.MapPost("/paper", PaperAsync).RequirePermission(Permission.KeepTimes);
        commands.MapPost("/photos", PhotoAsync).RequirePermission(Permission.AddPhotos).DisableAntiforgery();
    }

    private static IResult SessionOf(HttpContext http, IAntiforgery antiforgery) =>
        Results.Ok(new Session(antiforgery.GetAndStoreTokens(http).RequestToken, Actors.Of(http).Person));

    private static async ValueTask<object?> CheckTokenAsync(
        EndpointFilterInvocationContext context,
        EndpointFilterDelegate next
    )
    {
        var antiforgery = context.HttpContext.RequestServices.GetRequiredService<IAntiforgery>();
        return await antiforgery.IsRequestValidAsync(context.HttpContext)
            ? await next(context)
            // Not 400: a tap is not refused for good because its page was old; the script asks for a new token and tries again.
            : Problems.Problem(503, "The page is old.", "Load the page again; the tap is kept until then.");
    }

    private static async Task<IResult> TapAsync(
        Guid id,
        string code,
        string tap,
        ApiCall call,
        Body<OperationsEndpoints.FloorBody> body,
        OperationTaps taps
    )
    {
        var envelope = call.Envelope(body.Value.OccurredAt);
        var (job, ct) = (new JobId(id), call.Cancellation);
        var outcome = tap switch
        {
            "start" => await taps.Start.RunAsync(job, code, envelope, ct),
            "stop" => await taps.Stop.RunAsync(job, code, envelope, ct),
            "finish" => await taps.Finish.RunAsync(job, code, envelope, ct),
            "undo-finish" => await taps.Undo.RunAsync(job, code, envelope, ct),
            "hold" => await taps.Hold.RunAsync(
                job,
                code,
                new HoldOperation.Request(body.Value.Reason, body.Value.Note),
                envelope,
                ct
            ),
            "resume" => await taps.Resume.RunAsync(job, code, new ResumeOperation.Request(), envelope, ct),
            _ => Failure.Missing("tap"),
        };
        return outcome.ToHttp();
    }

    private static async Task<IResult> DayAsync(ApiCall call, Body<TimesEndpoints.TapBody> body, ClockTap tap) =>
        (
            await tap.RunAsync(
                new ClockTap.Request(body.Value.Tap, body.Value.Kind, body.Value.Note, body.Value.LeftAtClock),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> StillOnItAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<OperationsEndpoints.TapBody> body,
        AnswerLongTimer answer
    ) =>
        (
            await answer.ConfirmAsync(new JobId(id), code, call.Envelope(body.Value.OccurredAt), call.Cancellation)
        ).ToHttp(v => TimesEndpoints.Own(v, call));

    private static async Task<IResult> StoppedAtAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<StoppedBody> body,
        AnswerLongTimer answer
    ) =>
        (
            await answer.StoppedAsync(
                new JobId(id),
                code,
                new AnswerLongTimer.Request(StoppedAtClock: body.Value.StoppedAtClock),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp(v => TimesEndpoints.Own(v, call));

    /// <summary>Photo and hold together: a hold that is refused leaves no photo behind.</summary>
    private static async Task<IResult> HoldWithPhotoAsync(
        Guid id,
        string code,
        HttpRequest request,
        ApiCall call,
        HoldOperation hold
    )
    {
        if (
            !(await PhotoUpload.ReadAsync(request, isHold: true, call.Cancellation)).TryGet(
                out var upload,
                out var failure
            )
        )
        {
            return failure.ToProblem();
        }

        return (
            await hold.WithPhotoAsync(
                new JobId(id),
                code,
                new HoldOperation.Request(request.Form["reason"], request.Form["note"]),
                upload.Input,
                upload.File,
                call.Envelope(upload.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();
    }

    private static async Task<IResult> PaperAsync(
        Guid id,
        ApiCall call,
        Body<EnterFromPaper.Request> body,
        EnterFromPaper enter
    ) => (await enter.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PhotoAsync(Guid id, HttpRequest request, ApiCall call, AddPhoto add)
    {
        if (!(await PhotoUpload.ReadAsync(request, call.Cancellation)).TryGet(out var upload, out var failure))
        {
            return failure.ToProblem();
        }

        return (
            await add.RunAsync(
                new JobId(id),
                upload.Input,
                upload.File,
                call.Envelope(upload.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();
    }
}
