using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

public sealed class InspectionEndpoints : IApiEndpoints
{
    /// <summary>A reading as a device sends it.</summary>
    /// <param name="Result"><c>passed</c> or <c>failed</c>; a measured value out of limit fails by itself.</param>
    /// <param name="Entered">The value as typed, such as <c>1 3/4 in</c>, in place of <c>value</c>; on a pair the first of the two.</param>
    /// <param name="EnteredSecond">On a pair the second; the difference is judged.</param>
    /// <param name="InstrumentId">From <c>/instruments</c>.</param>
    public sealed record ReadingBody(
        string? Line,
        decimal? Value,
        string? Result,
        string? Note,
        IReadOnlyList<Guid>? PhotoIds,
        int? Corrects,
        DateTimeOffset? OccurredAt,
        string? Entered = null,
        string? EnteredSecond = null,
        Guid? InstrumentId = null
    );

    /// <param name="Strokes">The signature as drawn: each stroke as x, y, x, y … in thousandths of the pad; left out where it is given by pen.</param>
    public sealed record SignOffBody(
        string? Note,
        DateTimeOffset? OccurredAt,
        IReadOnlyList<IReadOnlyList<int>>? Strokes = null
    );

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/inspection", WaitingAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Open jobs with lines to look at now, or ready to be signed off.");
        api.MapGet("/jobs/{id:guid}/inspection", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "A job's inspection lines by operation, with limits and readings, and what forbids the sign-off."
            )
            .Produces<JobInspectionView>();
        api.MapPost("/jobs/{id:guid}/readings", RecordAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Records a reading of an inspection line; a value out of limit fails by itself.")
            .Produces(201);
        api.MapPost("/jobs/{id:guid}/sign-off", SignOffAsync)
            .RequirePermission(Permission.SignOff)
            .WithSummary("Signs the finished car off, by a person who did not work on it.")
            .Produces<SignOffView>();
        api.MapPost("/jobs/{id:guid}/sign-off/withdraw", WithdrawAsync)
            .RequirePermission(Permission.SignOff)
            .WithSummary("Takes the sign-off back with a reason; it stays on record.")
            .Produces<SignOffView>();
    }

    private static async Task<IResult> WaitingAsync(ApiCall call, ReadInspections read) =>
        (await read.WaitingAsync(call.Actor, call.Cancellation)).ToHttp(items => new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        });

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadInspections read) =>
        (await read.OneAsync(JobId.From(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> RecordAsync(Guid id, ApiCall call, Body<ReadingBody> body, RecordReading record)
    {
        var b = body.Value;
        var request = new RecordReading.Request(
            b.Line,
            b.Value,
            b.Result,
            b.Note,
            b.PhotoIds,
            b.Corrects,
            b.Entered,
            b.EnteredSecond,
            b.InstrumentId
        );
        return (
            await record.RunAsync(JobId.From(id), request, call.Envelope(b.OccurredAt), call.Cancellation)
        ).ToCreated(
            _ => $"{EndpointScan.ApiPrefix}/jobs/{id}/inspection",
            taken => new
            {
                taken.Reading.Id,
                taken.Reading.Line,
                taken.Reading.Number,
                taken.Reading.Value,
                taken.Reading.Result,
                taken.LineState,
                taken.Version,
                taken.Text,
            }
        );
    }

    private static async Task<IResult> SignOffAsync(
        Guid id,
        ApiCall call,
        Body<SignOffBody> body,
        SignOffJob signOff
    ) =>
        (
            await signOff.RunAsync(
                JobId.From(id),
                new SignOffJob.Request(body.Value.Note, body.Value.Strokes),
                call.Envelope(body.Value.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> WithdrawAsync(
        Guid id,
        ApiCall call,
        Body<WithdrawSignOff.Request> body,
        WithdrawSignOff withdraw
    ) => (await withdraw.RunAsync(JobId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
