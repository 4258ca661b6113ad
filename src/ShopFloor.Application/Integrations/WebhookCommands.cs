using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Application.Integrations;

/// <summary>Tells another program of the history's lines from now on. The secret is handed back once and never shown again.</summary>
public sealed class AddWebhook(CommandRunner runner, WebhookSecrets secrets) : IUseCase
{
    public sealed record Added(WebhookId Id, string Secret);

    public Task<Outcome<Added>> RunAsync(Webhook.Details details, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Added>(
            Permission.RunShop,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            details,
            async scope =>
            {
                if (await scope.Db.Set<Webhook>().CountAsync(scope.Cancellation) >= Webhook.Most)
                {
                    return Failure.Because(
                        "full",
                        $"There are {Webhook.Most} webhooks already. Remove one that is not needed any more."
                    );
                }

                var secret = WebhookSecrets.New();
                var newest = await WebhookLoading.NewestAsync(scope);
                if (
                    !Webhook
                        .Open(details, secrets.Seal(secret), newest, scope.Now)
                        .TryGet(out var webhook, out var failure)
                )
                {
                    return failure;
                }

                scope.Db.Add(webhook);
                scope.Record(new EventDraft("webhook.added", "webhook", webhook.Id.Value));
                return new Added(webhook.Id, secret);
            },
            ct
        );
}

/// <summary>Changes a webhook, or turns it on or off.</summary>
public sealed class ChangeWebhook(CommandRunner runner) : IUseCase
{
    public Task<Outcome<WebhookView>> RunAsync(
        WebhookId id,
        Webhook.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<WebhookView>(
            Permission.RunShop,
            envelope,
            new { id, details },
            async scope =>
            {
                if (await WebhookLoading.FindAsync(scope, id) is not { } webhook)
                {
                    return Failure.Missing("webhook");
                }

                var wasOn = webhook.IsOn;
                var failure =
                    scope.Stale(webhook) ?? webhook.Change(details, await WebhookLoading.NewestAsync(scope)).Failure;
                if (failure is not null)
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft("webhook.changed", "webhook", id.Value, After: new { webhook.IsOn, webhook.Types })
                );
                await scope.SaveAsync();
                if (wasOn && !webhook.IsOn)
                {
                    await WebhookLoading.DropWaitingAsync(scope, id);
                }

                return (
                    await ReadWebhooks.ViewsAsync(
                        scope.Db,
                        scope.Db.Set<Webhook>().Where(w => w.Id == id),
                        scope.Cancellation
                    )
                ).Single();
            },
            ct
        );
}

/// <summary>Removes a webhook and the list of its deliveries.</summary>
public sealed class RemoveWebhook(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(WebhookId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            envelope,
            new { id },
            async scope =>
            {
                if (await WebhookLoading.FindAsync(scope, id) is not { } webhook)
                {
                    return Failure.Missing("webhook");
                }

                await scope
                    .Db.Set<WebhookDelivery>()
                    .Where(d => d.WebhookId == id)
                    .ExecuteDeleteAsync(scope.Cancellation);
                scope.Db.Remove(webhook);
                scope.Record(new EventDraft("webhook.removed", "webhook", id.Value));
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Gives a webhook another secret, shown once; the old one signs nothing from then on.</summary>
public sealed class RenewWebhookSecret(CommandRunner runner, WebhookSecrets secrets) : IUseCase
{
    public Task<Outcome<AddWebhook.Added>> RunAsync(WebhookId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<AddWebhook.Added>(
            Permission.RunShop,
            envelope with
            {
                IdempotencyKey = null,
            },
            new { id },
            async scope =>
            {
                if (await WebhookLoading.FindAsync(scope, id) is not { } webhook)
                {
                    return Failure.Missing("webhook");
                }

                var secret = WebhookSecrets.New();
                webhook.Renew(secrets.Seal(secret));
                scope.Record(new EventDraft("webhook.secretRenewed", "webhook", id.Value));
                return new AddWebhook.Added(id, secret);
            },
            ct
        );
}

/// <summary>Sends one line of the history to a webhook once more.</summary>
public sealed class ResendDelivery(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(WebhookDeliveryId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            envelope,
            new { id },
            async scope =>
            {
                var delivery = await scope
                    .Db.Set<WebhookDelivery>()
                    .SingleOrDefaultAsync(d => d.Id == id, scope.Cancellation);
                if (delivery is null)
                {
                    return Failure.Missing("delivery");
                }

                if (await WebhookLoading.FindAsync(scope, delivery.WebhookId) is not { IsOn: true })
                {
                    return Failure.Because("off", "This webhook is turned off. Turn it on first.");
                }

                if (delivery.State == DeliveryState.Waiting)
                {
                    return Failure.Because("waiting", "It is on its way already.");
                }

                delivery.Again(scope.Now);
                scope.Record(
                    new EventDraft(
                        "webhook.repeated",
                        "webhook",
                        delivery.WebhookId.Value,
                        After: new { sequence = delivery.EventSequence }
                    )
                );
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Posts a line that means nothing, of type <c>test</c>, at once, and says what came of it.</summary>
public sealed class TestWebhook(
    QueryRunner queries,
    IWebhookTransport transport,
    WebhookSecrets secrets,
    TimeProvider clock
) : IUseCase
{
    public sealed record Result(bool IsTaken, string Sentence);

    public async Task<Outcome<Result>> RunAsync(WebhookId id, Actor actor, CancellationToken ct)
    {
        if (!actor.MayDo(Permission.RunShop))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        var read = await queries.RunAsync<Webhook>(
            Permission.RunShop,
            actor,
            async db =>
                await db.Set<Webhook>().SingleOrDefaultAsync(w => w.Id == id, ct) is { } found
                    ? found
                    : Failure.Missing("webhook"),
            ct
        );
        if (!read.TryGet(out var webhook, out var failure))
        {
            return failure;
        }

        if (secrets.Open(webhook.SealedSecret) is not { } secret)
        {
            return new Result(false, "Its secret cannot be read any more. Make a new one.");
        }

        var now = clock.GetUtcNow();
        var messageId = $"msg_{Ids.New<WebhookDeliveryId>(now).Value:N}";
        var body = JsonSerializer.Serialize(
            new
            {
                Type = "test",
                Timestamp = now,
                Data = new { },
            },
            StoredJson.Options
        );
        var answer = await transport.PostAsync(WebhookPost.To(webhook, secret, messageId, body, now), ct);
        return new Result(answer.IsTaken, answer.Problem ?? $"It answered {answer.Status}: taken.");
    }
}

internal static class WebhookLoading
{
    public static Task<Webhook?> FindAsync(CommandScope scope, WebhookId id) =>
        scope.Db.Set<Webhook>().SingleOrDefaultAsync(w => w.Id == id, scope.Cancellation);

    /// <summary>Number of the history's newest line.</summary>
    public static async Task<long> NewestAsync(CommandScope scope) =>
        await scope.Db.Events.MaxAsync(e => (long?)e.Sequence, scope.Cancellation) ?? 0;

    /// <summary>Gives up what waits for a webhook that is off: it would be old news when it is turned on again.</summary>
    public static Task<int> DropWaitingAsync(CommandScope scope, WebhookId id)
    {
        DateTimeOffset? now = scope.Now;
        return scope
            .Db.Set<WebhookDelivery>()
            .Where(d => d.WebhookId == id && d.State == DeliveryState.Waiting)
            .ExecuteUpdateAsync(
                s =>
                    s.SetProperty(d => d.State, DeliveryState.GivenUp)
                        .SetProperty(d => d.EndedAt, now)
                        .SetProperty(d => d.LeaseUntil, (DateTimeOffset?)null)
                        .SetProperty(d => d.Problem, "The webhook was turned off before it was taken.")
                        .SetProperty(d => d.Version, d => d.Version + 1),
                scope.Cancellation
            );
    }
}
