using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>A job's lines by operation, with entry of values, and its sign-off. Plain forms: it works with script off.</summary>
public partial class InspectionJobPage(ReadInspections read, SpokenMessages messages, ShopHead head)
{
    private JobInspectionView? job;
    private Failure? failure;
    private SpokenMessage? message;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [Parameter]
    public Guid Id { get; set; }

    /// <summary>What the last form's command answered, sealed by <see cref="SpokenMessages"/>.</summary>
    [SupplyParameterFromQuery]
    public string? Said { get; set; }

    /// <summary>The line the answer is about: it stays in view and carries the sentence.</summary>
    [SupplyParameterFromQuery]
    public string? Line { get; set; }

    private bool IsAtALine => job?.Inspection.Lines.Any(l => l.Code == Line) == true;

    protected override async Task OnInitializedAsync()
    {
        var outcome = await read.OneAsync(JobId.From(Id), Actors.Of(Http), Http.RequestAborted);
        job = outcome.IsSuccess ? outcome.Value : null;
        failure = outcome.Failure;
        message = messages.Open(Said);
        if (await head.ReadAsync(Http.RequestAborted) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        if (failure is Failure.NotFound)
        {
            Http.Response.StatusCode = StatusCodes.Status404NotFound;
        }
    }

    private NonconformanceView[] FaultsOf(InspectionLineView line) =>
        [.. job!.Inspection.Nonconformances.Where(n => n.Line == line.Code)];

    private bool IsOpen(OperationLinesView operation) =>
        operation.Lines.Any(l => l.Code == Line)
        || (operation.IsReached && operation.PassedCount < operation.Lines.Count);

    private static string Summary(OperationLinesView operation) =>
        operation.FailedCount > 0
            ? $"✕ {operation.FailedCount} failed, {operation.PassedCount} of {operation.Lines.Count} passed"
        : operation.PassedCount == operation.Lines.Count
            ? operation.Lines.Count == 1 ? "✓ passed"
                : $"✓ all {operation.Lines.Count} passed"
        : !operation.IsReached
            ? $"… not reached yet, {operation.Lines.Count} {(operation.Lines.Count == 1 ? "line" : "lines")}"
        : $"○ {operation.OpenCount} to check{(operation.IsHold ? ", work waits for it" : "")}";
}
