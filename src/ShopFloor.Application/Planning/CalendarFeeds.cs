using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Planning;

/// <summary>A calendar address as the owner lists it; its secret cannot be read again.</summary>
/// <param name="Title">What it shows, in words.</param>
public sealed record CalendarFeedView(CalendarFeedId Id, FeedKind Kind, string Title, DateTimeOffset CreatedAt);

/// <summary>A calendar address as it is handed out, once.</summary>
public sealed record CalendarTicket(CalendarFeedId Id, string Token, string Title);

/// <summary>Calendar addresses: made, listed, revoked by the owner.</summary>
public sealed class KeepCalendarFeeds(QueryRunner queries, CommandRunner runner) : IUseCase
{
    /// <param name="Kind">person, place or appointments.</param>
    public sealed record Request(string? Kind, Guid? PersonId = null, string? Place = null);

    public Task<Outcome<IReadOnlyList<CalendarFeedView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<CalendarFeedView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                var feeds = await db.Set<CalendarFeed>()
                    .Where(f => f.RevokedAt == null)
                    .OrderByDescending(f => f.Id)
                    .Take(CalendarFeed.MostInUse)
                    .ToListAsync(ct);
                var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                return feeds
                    .Select(f => new CalendarFeedView(f.Id, f.Kind, Title(f, shop, names), f.CreatedAt))
                    .ToList();
            },
            ct
        );

    public Task<Outcome<CalendarTicket>> CreateAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<CalendarTicket>(
            Permission.RunShop,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            request,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                var names = await scope
                    .Db.Users.Where(u => u.IsActive)
                    .ToDictionaryAsync(u => u.Id, u => u.DisplayName, scope.Cancellation);
                if (!Kinds.TryGetValue(request.Kind ?? "", out var kind))
                {
                    return Failure.Field(
                        "kind",
                        "A calendar shows one person, one place, or the appointments: person, place, appointments."
                    );
                }

                if (kind == FeedKind.Person && (request.PersonId is not { } person || !names.ContainsKey(person)))
                {
                    return Failure.Field("personId", "Choose whose work it shows.");
                }

                if (kind == FeedKind.Place && ShopPlaces.Of(shop.Places).Find(request.Place ?? "") is null)
                {
                    return Failure.Field("place", "Choose which place it shows.");
                }

                if (
                    await scope.Db.Set<CalendarFeed>().CountAsync(f => f.RevokedAt == null, scope.Cancellation)
                    >= CalendarFeed.MostInUse
                )
                {
                    return Failure.Because(
                        "tooMany",
                        $"{CalendarFeed.MostInUse} calendar addresses are in use. Revoke one that nobody needs."
                    );
                }

                var (feed, token) = CalendarFeed.Create(
                    scope.NewId<CalendarFeedId>(),
                    kind,
                    request.PersonId is { } id ? new PersonId(id) : null,
                    request.Place,
                    scope.Now
                );
                scope.Db.Add(feed);
                scope.Record(
                    new EventDraft(
                        "calendarFeed.created",
                        "calendarFeed",
                        feed.Id.Value,
                        After: new
                        {
                            feed.Kind,
                            feed.Person,
                            feed.Place,
                        }
                    )
                );
                return new CalendarTicket(feed.Id, token, Title(feed, shop, names));
            },
            ct
        );

    public Task<Outcome<Done>> RevokeAsync(CalendarFeedId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            envelope,
            new { revoke = id },
            async scope =>
            {
                var feed = await scope.Db.Set<CalendarFeed>().SingleOrDefaultAsync(f => f.Id == id, scope.Cancellation);
                if (feed is null)
                {
                    return Failure.Missing("calendar address");
                }

                if (feed.RevokedAt is null)
                {
                    feed.Revoke(scope.Now);
                    scope.Record(new EventDraft("calendarFeed.revoked", "calendarFeed", id.Value));
                }

                return default(Done);
            },
            ct
        );

    private static Dictionary<string, FeedKind> Kinds { get; } =
        new(StringComparer.Ordinal)
        {
            ["person"] = FeedKind.Person,
            ["place"] = FeedKind.Place,
            ["appointments"] = FeedKind.Appointments,
        };

    private static string Title(CalendarFeed feed, Shop shop, Dictionary<Guid, string> names) =>
        feed.Kind switch
        {
            FeedKind.Person => string.Create(
                CultureInfo.InvariantCulture,
                $"Work of {names.GetValueOrDefault(feed.Person!.Value.Value, "somebody who has left")}"
            ),
            FeedKind.Place => $"Work in {ShopPlaces.Of(shop.Places).Title(feed.Place!)}",
            _ => "Drop-offs and promised days",
        };
}
