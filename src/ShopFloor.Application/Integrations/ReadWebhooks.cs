using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Application.Integrations;

/// <summary>A webhook as shown; its secret never.</summary>
/// <param name="Waiting">Deliveries that wait to be sent.</param>
/// <param name="LastTakenAt">When something was last taken there, of what the list remembers.</param>
public sealed record WebhookView(
    WebhookId Id,
    long Version,
    string Name,
    string Address,
    IReadOnlyList<string> Types,
    bool IsOn,
    string? Trouble,
    DateTimeOffset? FailingSince,
    int Waiting,
    DateTimeOffset? LastTakenAt
);

/// <summary>How one delivery went.</summary>
/// <param name="Type">Type of the line; null where the history no longer has it.</param>
public sealed record DeliveryView(
    WebhookDeliveryId Id,
    long Sequence,
    string? Type,
    DeliveryState State,
    int Attempts,
    DateTimeOffset CreatedAt,
    DateTimeOffset DueAt,
    DateTimeOffset? EndedAt,
    int? Status,
    string? Problem
);

/// <summary>Reads webhooks and how their deliveries went.</summary>
public sealed class ReadWebhooks(QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<WebhookView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<WebhookView>>(
            Permission.RunShop,
            actor,
            async db => await ViewsAsync(db, db.Set<Webhook>(), ct),
            ct
        );

    /// <summary>Deliveries of one webhook, newest first; not taken ones only where wanted.</summary>
    public Task<Outcome<Page<DeliveryView>>> DeliveriesAsync(
        WebhookId id,
        bool onlyNotTaken,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<Page<DeliveryView>>(
            Permission.RunShop,
            actor,
            async db =>
                await db.Set<Webhook>().AnyAsync(w => w.Id == id, ct)
                    ? await page.CutAsync(
                        db.Set<WebhookDelivery>()
                            .Where(d => d.WebhookId == id && (!onlyNotTaken || d.State != DeliveryState.Taken))
                            .OrderByDescending(d => d.EventSequence)
                            .Select(d => new
                            {
                                Delivery = d,
                                Type = db
                                    .Events.Where(e => e.Sequence == d.EventSequence)
                                    .Select(e => e.Type)
                                    .FirstOrDefault(),
                            }),
                        row => new DeliveryView(
                            row.Delivery.Id,
                            row.Delivery.EventSequence,
                            row.Type,
                            row.Delivery.State,
                            row.Delivery.Attempts,
                            row.Delivery.CreatedAt,
                            row.Delivery.DueAt,
                            row.Delivery.EndedAt,
                            row.Delivery.Status,
                            row.Delivery.Problem
                        ),
                        ct
                    )
                    : Failure.Missing("webhook"),
            ct
        );

    internal static async Task<List<WebhookView>> ViewsAsync(
        ShopDbContext db,
        IQueryable<Webhook> webhooks,
        CancellationToken ct
    )
    {
        var rows = await webhooks.OrderBy(w => w.Name).ThenBy(w => w.Id).Take(Webhook.Most).ToListAsync(ct);
        var ids = rows.Select(w => w.Id).ToList();
        var waiting = await db.Set<WebhookDelivery>()
            .Where(d => ids.Contains(d.WebhookId) && d.State == DeliveryState.Waiting)
            .GroupBy(d => d.WebhookId)
            .Select(g => new { g.Key, Count = g.Count() })
            .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
        var taken = await db.Set<WebhookDelivery>()
            .Where(d => ids.Contains(d.WebhookId) && d.State == DeliveryState.Taken)
            .GroupBy(d => d.WebhookId)
            .Select(g => new { g.Key, Last = g.Max(d => d.EndedAt) })
            .ToDictionaryAsync(g => g.Key, g => g.Last, ct);
        return
        [
            .. rows.Select(w => new WebhookView(
                w.Id,
                w.Version,
                w.Name,
                w.Address,
                w.Types,
                w.IsOn,
                w.Trouble,
                w.FailingSince,
                waiting.GetValueOrDefault(w.Id),
                taken.GetValueOrDefault(w.Id)
            )),
        ];
    }
}
