using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Messages;

/// <summary>A job's messages at the front desk.</summary>
public partial class MessagesPanel(ReadMessages read, RepeatMessage repeat, CancelMessage cancel, ShopHead head)
{
    private MessageListView? list;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private bool isBusy;
    private int page = 1;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.OfJobAsync(Job, new PageRequest(page, PageRequest.DefaultSize), Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        // The list became shorter than the page that was shown.
        if (list is { Messages: var shownPage } && page > shownPage.LastNumber)
        {
            page = shownPage.LastNumber;
            return await LoadAsync();
        }

        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject is "message" or "mailSettings" || (notice.JobId == Job.Value && notice.Subject == "job");

    private Task TurnAsync(int to)
    {
        page = to;
        return ReloadAsync();
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
}
