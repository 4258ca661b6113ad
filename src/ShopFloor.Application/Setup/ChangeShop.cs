using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Setup;

/// <summary>The shop's settings as shown and changed.</summary>
public sealed record ShopView(ShopId Id, long Version, string Currency, Shop.Details Details)
{
    public static ShopView Of(Shop shop) =>
        new(
            shop.Id,
            shop.Version,
            shop.Currency.Code,
            new Shop.Details(
                shop.Name,
                shop.LegalName,
                shop.Address,
                shop.TaxRegistration,
                shop.Phone,
                shop.Email,
                shop.OpeningHours,
                shop.TimeZone,
                shop.LengthUnit == LengthUnit.Inch ? "inch" : "mm",
                shop.Accent,
                shop.SelfInspection,
                shop.FireWatchMinutes,
                shop.LongTimerHours,
                shop.ShiftEndsAt?.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture) ?? ""
            )
        );
}

/// <summary>Reads the shop's settings.</summary>
public sealed class ReadShop(QueryRunner queries) : IUseCase
{
    public Task<Outcome<ShopView>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<ShopView>(
            Permission.RunShop,
            actor,
            async db => ShopView.Of(await db.Shops.SingleAsync(ct)),
            ct
        );
}

/// <summary>Changes the shop's settings; the currency stays.</summary>
public sealed class ChangeShop(CommandRunner runner) : IUseCase
{
    public Task<Outcome<ShopView>> RunAsync(Shop.Details details, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ShopView>(
            Permission.RunShop,
            envelope,
            details,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                var before = (shop.SelfInspection, shop.FireWatchMinutes);
                if ((scope.Stale(shop) ?? shop.Change(details).Failure) is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "shop.changed",
                        "shop",
                        shop.Id.Value,
                        Before: new
                        {
                            selfInspection = before.SelfInspection,
                            fireWatchMinutes = before.FireWatchMinutes,
                        },
                        After: new
                        {
                            selfInspection = shop.SelfInspection,
                            fireWatchMinutes = shop.FireWatchMinutes,
                            longTimerHours = shop.LongTimerHours,
                            timeZone = shop.TimeZone,
                            lengthUnit = shop.LengthUnit,
                        }
                    )
                );
                await scope.SaveAsync();
                return ShopView.Of(shop);
            },
            ct
        );
}
