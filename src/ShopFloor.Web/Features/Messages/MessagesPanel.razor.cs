using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Messages;

/// <summary>A job's messages at the front desk.</summary>
public partial class MessagesPanel(
    ReadMessages read,
    RepeatMessage repeat,
    CancelMessage cancel,
    AppointDropOff appoint,
    ShopHead head
)
{
    private const string Clock = "HH:mm";
    private MessageListView? list;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private DateOnly? day;
    private TimeOnly? time;
    private DateOnly? agreed;
    private long version;
    private bool isBusy;
    private IReadOnlyList<FieldError> errors = [];

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    /// <summary>The job is open and its car comes here.</summary>
    [Parameter]
    public bool CanAppoint { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.OfJobAsync(Job, PageRequest.First, Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        var appointment = await appoint.ReadAsync(Job, Actor, Closing);
        // What is half typed stays.
        if (appointment.IsSuccess && (day == agreed || IsLoading))
        {
            Show(appointment.Value);
        }

        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject is "message" or "mailSettings" || (notice.JobId == Job.Value && notice.Subject == "job");

    private void Show(AppointDropOff.View view)
    {
        (day, agreed, version) = (view.Day, view.Day, view.Version);
        time = view.Time is null ? null : TimeOnly.ParseExact(view.Time, Clock, CultureInfo.InvariantCulture);
    }

    private async Task AppointAsync()
    {
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var outcome = await appoint.RunAsync(
            Job,
            new AppointDropOff.Request(day, time?.ToString(Clock, CultureInfo.InvariantCulture)),
            Envelope(NewKey(), agreed is null ? null : version),
            Closing
        );
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var view, "Agreed."))
        {
            Show(view);
            await ReloadAsync();
        }
    }

    private async Task RepeatAsync(MessageView message)
    {
        isBusy = true;
        if (Accepted(await repeat.RunAsync(message.Id, Envelope(NewKey()), Closing), out _, "It goes out again."))
        {
            await ReloadAsync();
        }

        isBusy = false;
    }

    private async Task CancelAsync(MessageView message)
    {
        isBusy = true;
        var outcome = await cancel.RunAsync(message.Id, Envelope(NewKey(), message.Version), Closing);
        if (Accepted(outcome, out _, "Taken back. \"Send again\" sends it after all."))
        {
            await ReloadAsync();
        }

        isBusy = false;
    }

    private RenderFragment Said(string path) => FieldSaid.Of(errors, path);
}
