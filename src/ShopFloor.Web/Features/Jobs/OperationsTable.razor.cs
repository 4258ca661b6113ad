using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>The route as a table: state, reasons and hours of each operation, and what the office may do with it.</summary>
public partial class OperationsTable(ResumeOperation resume, SetOperationNotNeeded notNeeded)
{
    private string? asked;
    private string? reason;

    [Parameter, EditorRequired]
    public JobView Job { get; set; } = default!;

    [Parameter, EditorRequired]
    public TimeZoneInfo Zone { get; set; } = TimeZoneInfo.Utc;

    [Parameter]
    public bool MayRun { get; set; }

    [Parameter]
    public EventCallback OnChanged { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    /// <summary>One sentence or a few about where the operation stands.</summary>
    private string Story(OperationView o) =>
        o.NotNeededReason is { } why ? why
        : o.Hold is { } hold ? $"{hold.Text}{(hold.Note is { } note ? ": " + note : "")} ({hold.By}, {At(hold.Since)})"
        : o.State == OperationState.InWork
            ? string.Join(", ", o.Running.Select(r => $"{r.Name} since {At(r.StartedAt)}"))
        : o.DoneBeforeOn is { } day ? $"Done before on {day.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}"
        : o.FinishedAt is { } finished ? $"{o.FinishedBy}, {At(finished)}"
        : string.Join(" ", o.Reasons.Select(r => r.Text));

    private string At(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, Zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    private void Ask(OperationView operation)
    {
        asked = operation.Code;
        reason = null;
    }

    private async Task LiftAsync(OperationView operation)
    {
        var outcome = await resume.RunAsync(
            Job.Id,
            operation.Code,
            new ResumeOperation.Request(TakeUp: false),
            Envelope(NewKey()),
            Closing
        );
        if (Accepted(outcome, out _, $"{operation.Code} is free again."))
        {
            await OnChanged.InvokeAsync();
        }
    }

    private async Task SetAsync(OperationView operation)
    {
        var outcome = await notNeeded.RunAsync(
            Job.Id,
            operation.Code,
            new SetOperationNotNeeded.Request(reason),
            Envelope(NewKey()),
            Closing
        );
        if (Accepted(outcome, out _, $"{operation.Code} is not needed."))
        {
            asked = null;
            await OnChanged.InvokeAsync();
        }
    }
}
