using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Finds and adds price books within a command or query.</summary>
public static class PriceBooks
{
    /// <summary>What a shop without a price book is told.</summary>
    public static Failure None { get; } =
        new Failure.NotFound(
            "This shop has no price book yet. The owner can adopt the starter prices on the price book page."
        );

    /// <summary>The edition in force on a day: the newest of those whose first day has come. Null before the first.</summary>
    public static Task<PriceBookEdition?> InForceAsync(ShopDbContext db, DateOnly day, CancellationToken ct) =>
        db.Set<PriceBookEdition>()
            .Where(b => b.EffectiveFrom <= day)
            .OrderByDescending(b => b.Edition)
            .FirstOrDefaultAsync(ct);

    /// <summary>Adopts a book as the next edition, in the caller's command; quotes made on its first day and later use it.</summary>
    /// <param name="from">Its first day; null for today.</param>
    public static async Task<Outcome<PriceBookEdition>> AdoptAsync(
        CommandScope scope,
        Shop shop,
        PriceBook book,
        DateOnly? from = null
    )
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(book);
        var newest = await scope.Db.Set<PriceBookEdition>().MaxAsync(b => (int?)b.Edition, scope.Cancellation) ?? 0;
        if (book.CurrencyCode != shop.Currency.Code)
        {
            return Failure.Field(
                "currencyCode",
                $"The price book counts in {book.CurrencyCode}, the shop in {shop.Currency.Code}; give the prices in {shop.Currency.Code}."
            );
        }

        var today = shop.LocalDay(scope.Now);
        var adopted = PriceBookEdition.Adopt(
            scope.NewId<PriceBookId>(),
            book,
            newest,
            from ?? today,
            today,
            scope.Now,
            scope.Actor.Person
        );
        if (adopted.IsSuccess)
        {
            scope.Db.Add(adopted.Value);
            scope.Record(
                new EventDraft(
                    "priceBook.adopted",
                    "priceBook",
                    adopted.Value.Id.Value,
                    After: new
                    {
                        adopted.Value.Edition,
                        adopted.Value.EffectiveFrom,
                        Kits = adopted.Value.Book.Kits.Select(k => k.Code),
                    }
                )
            );
        }

        return adopted;
    }
}
