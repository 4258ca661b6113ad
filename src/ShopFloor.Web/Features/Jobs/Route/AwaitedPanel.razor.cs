using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.Jobs.Route;

/// <summary>Stock and work sent out that a job waits for: recorded, and ticked off when it is there.</summary>
public partial class AwaitedPanel(AwaitThing awaitThing, EndWait endWait)
{
    private readonly HashSet<string> waiting = new(StringComparer.Ordinal);
    private IReadOnlyList<FieldError> errors = [];
    private bool isOpen;
    private bool isSaving;
    private string kind = "stock";
    private string? what;
    private string? code;
    private string? from;
    private DateOnly? dueOn;

    [Parameter, EditorRequired]
    public JobView Job { get; set; } = default!;

    [Parameter, EditorRequired]
    public JobRouteView Route { get; set; } = default!;

    [Parameter, EditorRequired]
    public TimeZoneInfo Zone { get; set; } = TimeZoneInfo.Utc;

    [Parameter]
    public EventCallback OnChanged { get; set; }

    private bool MayRun => Actor is not null && Actor.May(Permission.RunJobs) && Job.State == JobState.Open;

    /// <summary>Codes for which the route has gates.</summary>
    private IReadOnlyList<string> Codes => Route.GateCodes;

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private void Open()
    {
        (isOpen, what, code, from, dueOn, errors) = (true, null, null, null, null, []);
        waiting.Clear();
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var outcome = await awaitThing.RunAsync(
            Job.Id,
            new AwaitThing.Request(kind, what, string.IsNullOrEmpty(code) ? null : code, from, dueOn, [.. waiting]),
            Envelope(NewKey(), Job.Version),
            Closing
        );
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (errors.Count == 0 && Accepted(outcome, out _, "Recorded."))
        {
            isOpen = false;
            await OnChanged.InvokeAsync();
        }
    }

    private async Task EndAsync(int number, string state)
    {
        var outcome = await endWait.RunAsync(
            Job.Id,
            number,
            new EndWait.Request(state),
            Envelope(NewKey(), Job.Version),
            Closing
        );
        if (Accepted(outcome, out _, "Recorded."))
        {
            await OnChanged.InvokeAsync();
        }
    }

    private static (string State, string Text)[] Ends(AwaitedView thing) =>
        thing.Kind == "stock"
            ? [("reserved", "Reserved"), ("received", "Received"), ("dropped", "Not needed")]
            : [("returned", "Back"), ("dropped", "Not needed")];

    private static string Word(AwaitedView thing) =>
        thing.State switch
        {
            "open" => thing.Kind == "stock" ? "Awaited" : "Sent out",
            "returned" => "Back",
            "dropped" => "Not needed",
            "reserved" => "Reserved",
            _ => "Received",
        };

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, Zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    private RenderFragment Say(string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path.StartsWith(path, StringComparison.Ordinal))?.Text is { } text)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, text);
                builder.CloseElement();
            }
        };
}
