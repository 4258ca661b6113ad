using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Planning;

/// <summary>Makes, lists and revokes calendar addresses.</summary>
public partial class CalendarPanel(KeepCalendarFeeds keep, Hosting.Settings settings, ShopHead head)
{
    private IReadOnlyList<CalendarFeedView> feeds = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private string kind = "appointments";
    private string person = "";
    private string place = "";
    private string? fresh;
    private string freshTitle = "";
    private CalendarFeedId? asked;
    private bool isBusy;
    private IReadOnlyList<FieldError> errors = [];

    [Parameter, EditorRequired]
    public IReadOnlyList<HoursPage.PersonRows> People { get; set; } = [];

    [Parameter, EditorRequired]
    public IReadOnlyList<HoursPage.RoomRow> Places { get; set; } = [];

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await keep.ListAsync(Actor, Closing);
        feeds = outcome.IsSuccess ? outcome.Value : [];
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    private async Task CreateAsync()
    {
        isBusy = true;
        var request = new KeepCalendarFeeds.Request(kind, Guid.TryParse(person, out var who) ? who : null, place);
        var outcome = await keep.CreateAsync(request, Envelope(), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var ticket))
        {
            fresh = CalendarFeedEndpoints.UrlOf(settings, ticket.Token);
            freshTitle = ticket.Title;
            await ReloadAsync();
        }
    }

    /// <summary>Asks once more, then revokes.</summary>
    private async Task RevokeAsync(CalendarFeedView feed)
    {
        if (asked != feed.Id)
        {
            asked = feed.Id;
            return;
        }

        isBusy = true;
        if (Accepted(await keep.RevokeAsync(feed.Id, Envelope(NewKey()), Closing), out _, "Revoked."))
        {
            fresh = null;
            asked = null;
            await ReloadAsync();
        }

        isBusy = false;
    }

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
