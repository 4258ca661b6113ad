using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>The current price book.</summary>
public sealed class GetPriceBook(QueryRunner runner) : IUseCase
{
    public Task<Outcome<PriceBook>> RunAsync(Actor actor, CancellationToken ct) =>
        runner.RunAsync<PriceBook>(
            Permission.SeeMoney,
            actor,
            async db => await PriceBooks.CurrentAsync(db, ct) is { } edition ? edition.Book : PriceBooks.None,
            ct
        );
}
