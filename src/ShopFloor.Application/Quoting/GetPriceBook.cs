using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>The price book that is in force today.</summary>
public sealed class GetPriceBook(QueryRunner runner, IWorkContentSource work, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PriceBook>> RunAsync(Actor actor, CancellationToken ct) =>
        runner.RunAsync<PriceBook>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                await work.RefreshAsync(db, ct);
                var shop = await db.Shops.SingleAsync(ct);
                var edition = await PriceBooks.InForceAsync(db, shop.LocalDay(clock.GetUtcNow()), ct);
                return edition is null ? PriceBooks.None : edition.Book;
            },
            ct
        );
}
