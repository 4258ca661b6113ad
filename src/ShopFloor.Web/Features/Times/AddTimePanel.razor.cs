using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Times;

/// <summary>Enters a time afterwards: on an operation where a job is given, else without a job.</summary>
public partial class AddTimePanel(ReadTimes read, AddShopTime addShopTime, AddJobTime addJobTime)
{
    private IReadOnlyList<(PersonId Id, string Name)> people = [];
    private IReadOnlyList<FieldError> errors = [];
    private bool isOpen;
    private bool isSaving;
    private string? person;
    private string kind = "attendance";
    private string? operation;
    private string? note;
    private string? start;
    private string? end;
    private string? reason;

    /// <summary>Null on the page of a day.</summary>
    [Parameter]
    public JobView? Job { get; set; }

    [Parameter, EditorRequired]
    public TimeZoneInfo Zone { get; set; } = TimeZoneInfo.Utc;

    [Parameter]
    public EventCallback OnChanged { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.PeopleAsync(Actor, Closing);
        people = outcome.IsSuccess ? outcome.Value : [];
        return outcome.Failure;
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var who = Guid.TryParse(person, out var id) ? id : (Guid?)null;
        var (from, until) = (LocalTimes.Read(start, Zone), LocalTimes.Read(end, Zone));
        var failure = Job is { } job
            ? (
                await addJobTime.RunAsync(
                    job.Id,
                    operation ?? "",
                    new AddJobTime.Request(who, from, until, reason),
                    Envelope(NewKey()),
                    Closing
                )
            ).Failure
            : (
                await addShopTime.RunAsync(
                    new AddShopTime.Request(who, kind, note, from, until, reason),
                    Envelope(NewKey()),
                    Closing
                )
            ).Failure;
        isSaving = false;
        errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (
            failure is not Failure.Invalid
            && Accepted(failure is null ? Outcome.Ok : failure, out _, "Entered, and marked as entered afterwards.")
        )
        {
            (isOpen, note, start, end, reason) = (false, null, null, null, null);
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
