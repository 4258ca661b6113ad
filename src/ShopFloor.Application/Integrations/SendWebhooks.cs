using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Application.Integrations;

/// <summary>Notes for each webhook which new lines of the history it is to be told, and sends what is due. Several servers may do so at the same time: a line is noted once for each webhook, and a delivery belongs for the time of its lease to the one whose update took it.</summary>
public sealed class SendWebhooks(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IWebhookTransport transport,
    WebhookSecrets secrets,
    TimeProvider clock,
    ILogger<SendWebhooks> log
) : IUseCase
{
    private const int LinesAtATime = 500;

    /// <summary>Of one webhook in one turn.</summary>
    private const int AtATime = 20;

    /// <summary>Webhooks that are sent to side by side.</summary>
    private const int Together = 4;

    /// <summary>One turn; how many deliveries were tried.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        foreach (var id in await BehindAsync(ct))
        {
            await NoteAsync(id, ct);
        }

        var tried = 0;
        await Parallel.ForEachAsync(
            await DueAsync(ct),
            new ParallelOptions { MaxDegreeOfParallelism = Together, CancellationToken = ct },
            async (ofOne, stop) =>
            {
                foreach (var id in ofOne)
                {
                    if (await TryAsync(id, stop))
                    {
                        Interlocked.Increment(ref tried);
                    }
                }
            }
        );
        return tried;
    }

    /// <summary>Forgets what the list need not remember any more.</summary>
    public async Task<int> ForgetAsync(CancellationToken ct)
    {
        var oldest = clock.GetUtcNow() - WebhookDelivery.Kept;
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<WebhookDelivery>()
            .Where(d => d.CreatedAt < oldest && d.State != DeliveryState.Waiting)
            .ExecuteDeleteAsync(ct);
    }

    private async Task<List<WebhookId>> BehindAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var newest = await db.Events.MaxAsync(e => (long?)e.Sequence, ct) ?? 0;
        return await db.Set<Webhook>().Where(w => w.IsOn && w.Seen < newest).Select(w => w.Id).ToListAsync(ct);
    }

    private Task<Outcome<Done>> NoteAsync(WebhookId id, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var webhooks = scope.Db.Set<Webhook>().AsNoTracking().Where(w => w.Id == id && w.IsOn);
                if (await webhooks.SingleOrDefaultAsync(scope.Cancellation) is not { } webhook)
                {
                    return Outcome.Ok;
                }

                var lines = await scope
                    .Db.Events.Where(e => e.Sequence > webhook.Seen)
                    .OrderBy(e => e.Sequence)
                    .Take(LinesAtATime)
                    .Select(e => new { e.Sequence, e.Type })
                    .ToListAsync(scope.Cancellation);
                if (lines.Count == 0)
                {
                    return Outcome.Ok;
                }

                // Without another version: whoever is changing the webhook on its page changes something else. One of several servers gets through.
                var newest = lines[^1].Sequence;
                var moved = await webhooks
                    .Where(w => w.Seen == webhook.Seen)
                    .ExecuteUpdateAsync(s => s.SetProperty(w => w.Seen, newest), scope.Cancellation);
                if (moved == 1)
                {
                    scope.Db.AddRange(
                        lines
                            .Where(l => webhook.Wants(l.Type))
                            .Select(l => WebhookDelivery.Due(id, l.Sequence, scope.Now))
                    );
                }

                return Outcome.Ok;
            },
            ct
        );

    /// <summary>What is due, by webhook, so that one that does not answer keeps back only its own; where nothing was taken lately, one line feels whether that has changed.</summary>
    private async Task<List<List<WebhookDeliveryId>>> DueAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        var due = db.Set<WebhookDelivery>()
            .Where(d =>
                d.State == DeliveryState.Waiting && d.DueAt <= now && (d.LeaseUntil == null || d.LeaseUntil <= now)
            );
        var webhooks = await db.Set<Webhook>()
            .Where(w => w.IsOn && due.Any(d => d.WebhookId == w.Id))
            .Select(w => new { w.Id, IsFailing = w.FailingSince != null })
            .ToListAsync(ct);
        var found = new List<List<WebhookDeliveryId>>();
        foreach (var webhook in webhooks)
        {
            found.Add(
                await due.Where(d => d.WebhookId == webhook.Id)
                    .OrderBy(d => d.DueAt)
                    .ThenBy(d => d.EventSequence)
                    .Select(d => d.Id)
                    .Take(webhook.IsFailing ? 1 : AtATime)
                    .ToListAsync(ct)
            );
        }

        return found;
    }

    /// <summary>True for exactly one of several that want it at the same time.</summary>
    private async Task<bool> TakeAsync(WebhookDeliveryId id, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var until = now + WebhookDelivery.Lease;
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<WebhookDelivery>()
                .Where(d =>
                    d.Id == id
                    && d.State == DeliveryState.Waiting
                    && d.DueAt <= now
                    && (d.LeaseUntil == null || d.LeaseUntil <= now)
                )
                .ExecuteUpdateAsync(
                    s =>
                        s.SetProperty(d => d.LeaseUntil, until)
                            .SetProperty(d => d.Attempts, d => d.Attempts + 1)
                            .SetProperty(d => d.Version, d => d.Version + 1),
                    ct
                ) == 1;
    }

    /// <summary>Whether it was this server's to send. What goes wrong with one must not keep back the others.</summary>
    private async Task<bool> TryAsync(WebhookDeliveryId id, CancellationToken ct)
    {
        try
        {
            if (!await TakeAsync(id, ct))
            {
                return false;
            }

            if (await AnswerAsync(id, ct) is { } answer)
            {
                await SettleAsync(id, answer);
            }
        }
        catch (Exception exception) when (exception is not OperationCanceledException)
        {
            log.LogError("Delivery {Id} could not be noted: {Exception}", id, exception.GetType().Name);
        }

        return true;
    }

    /// <summary>What came of sending it; null where it was removed meanwhile.</summary>
    private async Task<WebhookAnswer?> AnswerAsync(WebhookDeliveryId id, CancellationToken ct)
    {
        try
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            var delivery = await db.Set<WebhookDelivery>().AsNoTracking().SingleOrDefaultAsync(d => d.Id == id, ct);
            var webhook = delivery is null
                ? null
                : await db.Set<Webhook>().AsNoTracking().SingleOrDefaultAsync(w => w.Id == delivery.WebhookId, ct);
            if (delivery is null || webhook is null)
            {
                return null;
            }

            if (secrets.Open(webhook.SealedSecret) is not { } secret)
            {
                return new WebhookAnswer(null, "Its secret cannot be read any more. Make a new one on its page.");
            }

            var line = await db.Events.AsNoTracking().SingleAsync(e => e.Sequence == delivery.EventSequence, ct);
            var post = WebhookPost.To(webhook, secret, delivery.MessageId, Body(line), clock.GetUtcNow());
            return await transport.PostAsync(post, ct);
        }
        catch (Exception exception) when (exception is not OperationCanceledException)
        {
            // Its kind only: the text of an exception may hold an address.
            log.LogError("Delivery {Id} could not be sent: {Exception}", id, exception.GetType().Name);
            return new WebhookAnswer(null, "Something unforeseen went wrong while it was written or sent.");
        }
    }

    /// <summary>What is told of a line: ids and facts as the events feed has them, no names.</summary>
    internal static string Body(EventRow line) =>
        JsonSerializer.Serialize(
            new
            {
                line.Type,
                Timestamp = line.OccurredAt,
                Data = new
                {
                    line.Sequence,
                    line.Id,
                    line.Schema,
                    line.Subject,
                    line.SubjectId,
                    JobId = line.Job?.Value,
                    line.RecordedAt,
                    PersonId = line.Person?.Value,
                    Facts = JsonSerializer.Deserialize<JsonElement>(line.Data),
                },
            },
            StoredJson.Options
        );

    /// <summary>Not cancelled in the middle: a server that stops still notes what it sent.</summary>
    private Task<Outcome<Done>> SettleAsync(WebhookDeliveryId id, WebhookAnswer answer) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var delivery = await scope
                    .Db.Set<WebhookDelivery>()
                    .SingleOrDefaultAsync(d => d.Id == id, scope.Cancellation);
                if (delivery is not { State: DeliveryState.Waiting })
                {
                    return Outcome.Ok;
                }

                var webhooks = scope.Db.Set<Webhook>().Where(w => w.Id == delivery.WebhookId);
                var webhook = await webhooks.SingleAsync(scope.Cancellation);
                if (answer.IsTaken)
                {
                    delivery.Taken(answer.Status!.Value, scope.Now);
                    // Without another version, as in noting.
                    await webhooks
                        .Where(w => w.FailingSince != null)
                        .ExecuteUpdateAsync(
                            s => s.SetProperty(w => w.FailingSince, (DateTimeOffset?)null),
                            scope.Cancellation
                        );
                    return Outcome.Ok;
                }

                var isLast = answer.IsGone || webhook.IsOutOfPatience(scope.Now);
                delivery.NotTaken(answer.Status, answer.Problem!, isLast, scope.Now);
                if (!isLast)
                {
                    DateTimeOffset? since = scope.Now;
                    await webhooks
                        .Where(w => w.FailingSince == null)
                        .ExecuteUpdateAsync(s => s.SetProperty(w => w.FailingSince, since), scope.Cancellation);
                    return Outcome.Ok;
                }

                if (answer.IsGone)
                {
                    webhook.Gone();
                }
                else
                {
                    webhook.GiveUp();
                }

                scope.Record(new EventDraft("webhook.turnedOff", "webhook", webhook.Id.Value));
                await scope.SaveAsync();
                await WebhookLoading.DropWaitingAsync(scope, webhook.Id);
                return Outcome.Ok;
            },
            CancellationToken.None
        );
}
