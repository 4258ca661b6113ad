using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Adopts a price book as the next edition; without one, the starter prices. Sent quotes keep the edition they were made with.</summary>
public sealed class AdoptPriceBook(CommandRunner runner) : IUseCase
{
    /// <param name="Book">Null for the starter prices.</param>
    /// <param name="EffectiveFrom">Its first day, today or later; null for today.</param>
    public sealed record Request(PriceBook? Book, DateOnly? EffectiveFrom = null);

    public Task<Outcome<PriceBook>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                var book = request.Book ?? StarterPriceBook.For(shop.Currency);
                var adopted = await PriceBooks.AdoptAsync(scope, shop, book, request.EffectiveFrom);
                return adopted.Then<PriceBook>(edition => edition.Book);
            },
            ct
        );
}
