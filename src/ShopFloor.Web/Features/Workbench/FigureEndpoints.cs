using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Figures of the workbench saved with jobs.</summary>
public sealed class FigureEndpoints : IApiEndpoints
{
    public sealed record FigureBody(
        string? Calculator = null,
        string? Operation = null,
        string? Title = null,
        string? Note = null,
        string? Unit = null,
        int? TapeDivisions = null,
        IReadOnlyDictionary<string, string?>? Inputs = null,
        Guid? Replaces = null,
        DateTimeOffset? OccurredAt = null
    );

    public sealed record WithdrawalBody(string? Reason = null, DateTimeOffset? OccurredAt = null);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/figures", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "Figures of the workbench saved with the job: those in force by operation, and the earlier ones."
            )
            .Produces<JobFigures>();
        api.MapPost("/jobs/{id:guid}/figures", SaveAsync)
            .RequirePermission(Permission.KeepFigures)
            .WithSummary(
                "Saves figures with the job: they are worked out from what was typed, by field as on the calculator's page; with replaces they take the place of earlier ones."
            )
            .Produces<JobFigureView>(201);
        api.MapGet("/figures/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Saved figures.")
            .Produces<JobFigureView>();
        api.MapPost("/figures/{id:guid}/withdraw", WithdrawAsync)
            .RequirePermission(Permission.KeepFigures)
            .WithSummary("The figures are not to be worked by any more; they stay in the job's history.")
            .Produces<JobFigureView>();
        api.MapGet("/figures/{id:guid}/papers/{file}", FigurePaperEndpoints.PaperAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("A paper of saved figures with the job's number and car on it; size is a4 or letter.");
    }

    private static async Task<IResult> ListAsync(Guid id, ApiCall call, ReadJobFigures read) =>
        (await read.OfJobAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadJobFigures read) =>
        (await read.OneAsync(new JobFigureId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> SaveAsync(Guid id, ApiCall call, Body<FigureBody> body, SaveJobFigure save)
    {
        var b = body.Value;
        var request = new SaveJobFigure.Request(
            b.Calculator,
            b.Operation,
            b.Title,
            b.Note,
            b.Unit,
            b.TapeDivisions,
            b.Inputs,
            b.Replaces
        );
        return (await save.RunAsync(new JobId(id), request, call.Envelope(b.OccurredAt), call.Cancellation)).ToCreated(
            f => $"{EndpointScan.ApiPrefix}/figures/{f.Id}"
        );
    }

    private static async Task<IResult> WithdrawAsync(
        Guid id,
        ApiCall call,
        Body<WithdrawalBody> body,
        WithdrawJobFigure withdraw
    ) =>
        (
            await withdraw.RunAsync(
                new JobFigureId(id),
                new(body.Value.Reason),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();
}

/// <summary>Papers of saved figures for people who are signed in.</summary>
public sealed class FigurePaperEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/figures/{id:guid}/papers/{file}", PaperAsync).RequirePermission(Permission.SeeFloor);

    internal static async Task<IResult> PaperAsync(
        Guid id,
        string file,
        string? size,
        HttpContext http,
        PrintJobFigure print,
        CancellationToken ct
    ) =>
        await BenchPaperEndpoints.FileAsync(
            size,
            sheet => print.RunAsync(new JobFigureId(id), file, sheet, Actors.Of(http), ct)
        );
}
