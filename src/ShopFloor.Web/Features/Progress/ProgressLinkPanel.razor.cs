using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The customer's links of a job, for the front desk.</summary>
public partial class ProgressLinkPanel(
    ListProgressLinks list,
    CreateProgressLink create,
    RevokeProgressLink revoke,
    ShopHead head,
    Hosting.Settings settings
)
{
    private IReadOnlyList<ProgressLinkView> links = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private string? address;
    private DateTimeOffset expiresAt;
    private ProgressLinkId shown;
    private bool isBusy;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await list.RunAsync(Job, Actor, Closing);
        links = outcome.IsSuccess ? outcome.Value : [];
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject == "progressLink" && notice.JobId == Job.Value;

    private async Task CreateAsync(bool endsOthers)
    {
        // The second click of a double click arrives before the button is seen to be disabled.
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var made = await create.RunAsync(
            Job,
            new CreateProgressLink.Request(EndsOthers: endsOthers),
            Envelope(NewKey()),
            Closing
        );
        if (Accepted(made, out var ticket))
        {
            address = ProgressEndpoints.UrlOf(settings, ticket.Token);
            expiresAt = ticket.ExpiresAt;
            shown = ticket.Id;
            await ReloadAsync();
        }

        isBusy = false;
    }

    private async Task RevokeAsync(ProgressLinkId id)
    {
        isBusy = true;
        if (Accepted(await revoke.RunAsync(id, Envelope(NewKey()), Closing), out _, "The link opens nothing any more."))
        {
            address = id == shown ? null : address;
            await ReloadAsync();
        }

        isBusy = false;
    }

    private string Uses(ProgressLinkView link) =>
        link.LastOpenedAt is { } last
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{link.Opened} {(link.Opened == 1 ? "time" : "times")}, last on {TimeZoneInfo.ConvertTime(last, zone):d MMM yyyy, HH:mm}"
            )
            : "Not yet";

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
