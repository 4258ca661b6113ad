using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Times;

/// <summary>Spells with their trace and the form that corrects them; used by the day's page and by a job's.</summary>
public partial class SpellTable(CorrectJobTime correctJobTime, CorrectShopTime correctShopTime)
{
    private Guid? open;
    private string? start;
    private string? end;
    private string? reason;
    private bool isSaving;
    private IReadOnlyList<FieldError> errors = [];

    [Parameter, EditorRequired]
    public IReadOnlyList<SpellView> Spells { get; set; } = [];

    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    [Parameter, EditorRequired]
    public TimeZoneInfo Zone { get; set; } = TimeZoneInfo.Utc;

    [Parameter]
    public bool ShowsName { get; set; }

    [Parameter]
    public EventCallback OnChanged { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private void Open(SpellView spell)
    {
        open = open == spell.Id ? null : spell.Id;
        start = LocalTimes.Input(spell.StartedAt, Zone);
        end = spell.EndedAt is { } ended ? LocalTimes.Input(ended, Zone) : null;
        reason = null;
        errors = [];
    }

    private async Task SaveAsync(SpellView spell)
    {
        isSaving = true;
        var (from, until) = (LocalTimes.Read(start, Zone), LocalTimes.Read(end, Zone));
        var failure = spell.JobId is { } job
            ? (
                await correctJobTime.RunAsync(
                    job,
                    new TimeEntryId(spell.Id),
                    new CorrectJobTime.Request(from, until, reason),
                    Envelope(NewKey()),
                    Closing
                )
            ).Failure
            : (
                await correctShopTime.RunAsync(
                    new ShopTimeId(spell.Id),
                    new CorrectShopTime.Request(from, until, reason),
                    Envelope(NewKey()),
                    Closing
                )
            ).Failure;
        isSaving = false;
        errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (
            failure is not Failure.Invalid
            && Accepted(failure is null ? Outcome.Ok : failure, out _, "Corrected; the original stays.")
        )
        {
            open = null;
            await OnChanged.InvokeAsync();
        }
    }

    private RenderFragment Said(string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path == path) is { } error)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, error.Text);
                builder.CloseElement();
            }
        };
}
