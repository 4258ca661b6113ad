using ShopFloor.Application.Common;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Quoting;

/// <summary>Gives a new shop the starter prices, so that it can quote at once.</summary>
public sealed class PriceBookStarter : IShopStarter
{
    public async Task AddAsync(Shop shop, CommandScope scope)
    {
        ArgumentNullException.ThrowIfNull(shop);
        var adopted = await PriceBooks.AdoptAsync(scope, shop, StarterPriceBook.For(shop.Currency));
        if (!adopted.IsSuccess)
        {
            throw new InvalidOperationException("The shipped starter prices: " + adopted.Failure.Sentence);
        }
    }
}
