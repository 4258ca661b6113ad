using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Layout;

/// <summary>What every page shows of the shop.</summary>
public sealed record ShopHeading(
    string Name,
    string Accent,
    string Currency,
    string TimeZone,
    string LengthUnit,
    string? Phone,
    string? Email,
    string? OpeningHours
);

/// <summary>Reads the shop's heading; public facts only, so no permission is asked.</summary>
public sealed class ShopHead(IDbContextFactory<ShopDbContext> contexts)
{
    /// <summary>Null before the set-up.</summary>
    public async Task<ShopHeading?> ReadAsync(CancellationToken ct = default)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var shop = await db.Shops.AsNoTracking().SingleOrDefaultAsync(ct);
        return shop is null
            ? null
            : new ShopHeading(
                shop.Name,
                shop.Accent,
                shop.Currency.Code,
                shop.TimeZone,
                shop.LengthUnit == Domain.Common.LengthUnit.Inch ? "inch" : "mm",
                shop.Phone,
                shop.Email,
                shop.OpeningHours
            );
    }
}
