using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Integrations;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;
using ShopFloor.Web.Features.Messages;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Integrations;

/// <summary>Other programs that are told of the history's lines, and how it goes.</summary>
public partial class WebhooksPage(
    ReadWebhooks read,
    AddWebhook add,
    ChangeWebhook change,
    RemoveWebhook remove,
    RenewWebhookSecret renew,
    ResendDelivery resend,
    TestWebhook test,
    ShopHead head
)
{
    private IReadOnlyList<WebhookView> list = [];
    private IReadOnlyList<FieldError> errors = [];
    private Page<DeliveryView>? deliveries;
    private WebhookId? opened;
    private bool onlyNotTaken;
    private (WebhookId Of, Ask What)? asked;
    private TestWebhook.Result? tested;
    private WebhookId? testedOf;
    private WebhookView? edited;
    private string? secret;
    private string? name;
    private string? address;
    private string? types;
    private bool isBusy;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    private enum Ask
    {
        Secret,
        Remove,
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.ListAsync(Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : [];
        if (outcome.IsSuccess && opened is not null)
        {
            await ShowAsync(onlyNotTaken, deliveries?.PageNumber ?? 1);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "webhook";

    private async Task SaveAsync()
    {
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var details = new Webhook.Details(name, address, types?.Split('\n'), edited?.IsOn);
        if (edited is null)
        {
            var outcome = await add.RunAsync(details, Envelope(), Closing);
            errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
            if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var added, "Added."))
            {
                secret = added.Secret;
                Clear();
                await ReloadAsync();
            }
        }
        else
        {
            var outcome = await change.RunAsync(edited.Id, details, Envelope(version: edited.Version), Closing);
            errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
            if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, "Saved."))
            {
                Clear();
                await ReloadAsync();
            }
        }

        isBusy = false;
    }

    private void Edit(WebhookView hook) =>
        (edited, name, address, types, errors) = (hook, hook.Name, hook.Address, string.Join('\n', hook.Types), []);

    private void Clear() => (edited, name, address, types, errors) = (null, null, null, null, []);

    private void Leave() => asked = null;

    private async Task TurnAsync(WebhookView hook)
    {
        var details = new Webhook.Details(hook.Name, hook.Address, hook.Types, !hook.IsOn);
        var outcome = await change.RunAsync(hook.Id, details, Envelope(version: hook.Version), Closing);
        Accepted(outcome, out _, hook.IsOn ? "Turned off." : "Turned on: told of what happens from now on.");
        await ReloadAsync();
    }

    private async Task TestAsync(WebhookView hook)
    {
        (isBusy, tested) = (true, null);
        var outcome = await test.RunAsync(hook.Id, Actor, Closing);
        isBusy = false;
        testedOf = hook.Id;
        tested = outcome.IsSuccess ? outcome.Value : new TestWebhook.Result(false, outcome.Failure.Sentence);
    }

    private async Task RenewAsync(WebhookView hook)
    {
        if (Accepted(await renew.RunAsync(hook.Id, Envelope(), Closing), out var fresh))
        {
            secret = fresh.Secret;
        }

        asked = null;
    }

    private async Task RemoveAsync(WebhookView hook)
    {
        Accepted(await remove.RunAsync(hook.Id, Envelope(NewKey()), Closing), out _, "Removed.");
        asked = null;
        if (edited?.Id == hook.Id)
        {
            Clear();
        }

        await ReloadAsync();
    }

    private async Task RepeatAsync(DeliveryView one)
    {
        Accepted(await resend.RunAsync(one.Id, Envelope(NewKey()), Closing), out _, "It goes out again.");
        await ReloadAsync();
    }

    private async Task OpenAsync(WebhookView hook)
    {
        (opened, deliveries) = (opened == hook.Id ? null : hook.Id, null);
        if (opened is not null)
        {
            await ShowAsync(false, 1);
        }
    }

    private async Task ShowAsync(bool notTaken, int page)
    {
        onlyNotTaken = notTaken;
        if (opened is { } id)
        {
            var wanted = new PageRequest(page, 20);
            var outcome = await read.DeliveriesAsync(id, notTaken, wanted, Actor, Closing);
            deliveries = outcome.IsSuccess ? outcome.Value : null;
            opened = outcome.IsSuccess ? opened : null;
        }
    }

    private static string StateOf(WebhookView hook) => hook.IsOn ? "✓ On" : "■ Off";

    private string StateOf(DeliveryView one) =>
        one.State switch
        {
            DeliveryState.Taken => $"✓ Taken {Local(one.EndedAt!.Value)}",
            DeliveryState.GivenUp => $"✕ Given up {Local(one.EndedAt!.Value)}. {one.Problem}",
            _ when one.Attempts == 0 => "○ Waits",
            _ => $"⚠ Not taken; next try {Local(one.DueAt)}. {one.Problem}",
        };

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    private string? Invalid(string path) => errors.Any(e => e.Path == path) ? "true" : null;

    private RenderFragment Said(string path) => FieldSaid.Of(errors, path);
}
