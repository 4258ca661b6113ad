using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Application.Places;

/// <summary>The shop's places.</summary>
public sealed record ShopPlacesView(long Version, IReadOnlyList<ShopPlace> Places);

/// <summary>Reads the shop's places.</summary>
public sealed class ReadShopPlaces(QueryRunner queries) : IUseCase
{
    public Task<Outcome<ShopPlacesView>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<ShopPlacesView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                return new ShopPlacesView(shop.Version, ShopPlaces.Of(shop.Places).All);
            },
            ct
        );
}

/// <summary>The owner changes the list of places. Not while a permit is open: its place would be another one under the watcher's feet.</summary>
public sealed class ChangeShopPlaces(CommandRunner runner) : IUseCase
{
    public sealed record Request(IReadOnlyList<ShopPlace>? Places);

    public Task<Outcome<ShopPlacesView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ShopPlacesView>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                await scope.LockSeriesAsync(HotWorkLoading.Series);
                var shop = await scope.ShopAsync();
                if (scope.Stale(shop) is { } stale)
                {
                    return stale;
                }

                if (!ShopPlaces.ReadList(request.Places).TryGet(out var list, out var failure))
                {
                    return failure;
                }

                var open = await scope
                    .Db.Set<HotWorkPermit>()
                    .Where(p => p.ClosedAt == null)
                    .Select(p => p.Number)
                    .OrderBy(n => n)
                    .ToListAsync(ct);
                if (open.Count > 0)
                {
                    return Failure.Because(
                        "permitsOpen",
                        $"Permits are open ({string.Join(", ", open)}). Change the places when every fire watch is closed."
                    );
                }

                var before = ShopPlaces.Of(shop.Places).All;
                shop.TakePlaces(list);
                scope.Record(
                    new EventDraft(
                        "shop.placesChanged",
                        "shop",
                        shop.Id.Value,
                        Before: new { places = before.Select(p => $"{p.Code} ({p.Kind})") },
                        After: new { places = list.Select(p => $"{p.Code} ({p.Kind})") }
                    )
                );
                await scope.SaveAsync();
                return new ShopPlacesView(shop.Version, shop.Places);
            },
            ct
        );
}
