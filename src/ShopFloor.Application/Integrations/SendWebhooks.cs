using System.Text.Json;
using Microsoft.EntityFrameworkCore;
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
    TimeProvider clock
) : IUseCase
{
    private const int LinesAtATime = 500;
    private const int AtATime = 20;

    /// <summary>Sent side by side, so that one that does not answer keeps back few.</summary>
    private const int Together = 4;

    /// <summary>One turn; how many deliveries were tried.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        foreach (var id in await BehindAsync(ct))
        {
            await NoteAsync(id, ct);
        }

        var due = await DueAsync(ct);
        var tried = 0;
        await Parallel.ForEachAsync(
            due,
            new ParallelOptions { MaxDegreeOfParallelism = Together, CancellationToken = ct },
            async (id, stop) =>
            {
                if (await TakeAsync(id, stop))
                {
                    await SendAsync(id, stop);
                    Interlocked.Increment(ref tried);
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
                var webhook = await scope.Db.Set<Webhook>().SingleOrDefaultAsync(w => w.Id == id, scope.Cancellation);
                if (webhook is not { IsOn: true })
                {
                    return Outcome.Ok;
                }

                var lines = await scope
                    .Db.Events.Where(e => e.Sequence > webhook.Seen)
                    .OrderBy(e => e.Sequence)
                    .Take(LinesAtATime)
                    .Select(e => new { e.Sequence, e.Type })
                    .ToListAsync(scope.Cancellation);
                foreach (var line in lines)
                {
                    webhook.LookedAt(line.Sequence);
                    if (webhook.Wants(line.Type))
                    {
                        scope.Db.Add(WebhookDelivery.Due(id, line.Sequence, scope.Now));
                    }
                }

                return Outcome.Ok;
            },
            ct
        );

    private async Task<List<WebhookDeliveryId>> DueAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<WebhookDelivery>()
            .Where(d =>
                d.State == DeliveryState.Waiting
                && d.DueAt <= now
                && (d.LeaseUntil == null || d.LeaseUntil <= now)
                && db.Set<Webhook>().Any(w => w.Id == d.WebhookId && w.IsOn)
            )
            .OrderBy(d => d.DueAt)
            .ThenBy(d => d.EventSequence)
            .Select(d => d.Id)
            .Take(AtATime)
            .ToListAsync(ct);
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

    private async Task SendAsync(WebhookDeliveryId id, CancellationToken ct)
    {
        if (await WriteAsync(id, ct) is { } post)
        {
            var answer = await transport.PostAsync(post, ct);
            await SettleAsync(id, answer);
        }
        else
        {
            await SettleAsync(
                id,
                new WebhookAnswer(null, "Its secret cannot be read any more. Make a new one on its page.")
            );
        }
    }

    private async Task<WebhookPost?> WriteAsync(WebhookDeliveryId id, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var delivery = await db.Set<WebhookDelivery>().AsNoTracking().SingleAsync(d => d.Id == id, ct);
        var webhook = await db.Set<Webhook>().AsNoTracking().SingleAsync(w => w.Id == delivery.WebhookId, ct);
        if (secrets.Open(webhook.SealedSecret) is not { } secret)
        {
            return null;
        }

        var line = await db.Events.AsNoTracking().SingleAsync(e => e.Sequence == delivery.EventSequence, ct);
        var body = Body(line);
        var now = clock.GetUtcNow();
        return new WebhookPost(
            new Uri(webhook.Address),
            delivery.MessageId,
            now,
            WebhookSecrets.Sign(secret, delivery.MessageId, now, body),
            body
        );
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

                var webhook = await scope
                    .Db.Set<Webhook>()
                    .SingleAsync(w => w.Id == delivery.WebhookId, scope.Cancellation);
                if (answer.IsTaken)
                {
                    delivery.Taken(answer.Status!.Value, scope.Now);
                    webhook.Taken();
                    return Outcome.Ok;
                }

                delivery.NotTaken(answer.Status, answer.Problem!, answer.IsGone, scope.Now);
                var wasOn = webhook.IsOn;
                if (answer.IsGone)
                {
                    webhook.Gone();
                }
                else
                {
                    webhook.Failed(scope.Now);
                }

                if (wasOn && !webhook.IsOn)
                {
                    scope.Record(new EventDraft("webhook.turnedOff", "webhook", webhook.Id.Value));
                }

                return Outcome.Ok;
            },
            CancellationToken.None
        );
}
