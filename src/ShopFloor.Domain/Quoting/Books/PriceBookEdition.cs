using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A price book as adopted: kept for ever, because quotes refer to it. There is no method that changes one; a change is a further edition.</summary>
public sealed class PriceBookEdition
{
    private PriceBookEdition() { }

    public PriceBookId Id { get; private set; }

    /// <summary>1 for the first one adopted, then one more each time.</summary>
    public int Edition { get; private set; }

    public DateTimeOffset AdoptedAt { get; private set; }

    public PersonId? AdoptedBy { get; private set; }

    public PriceBook Book { get; private set; } = null!;

    /// <summary>Adopts a book as the edition after <paramref name="newestEdition"/> (0 when it is the first).</summary>
    public static Outcome<PriceBookEdition> Adopt(
        PriceBookId id,
        PriceBook book,
        int newestEdition,
        DateOnly today,
        DateTimeOffset now,
        PersonId? by
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        var numbered = book with { Edition = newestEdition + 1, EffectiveFrom = today };
        return PriceBookRules
            .Check(numbered)
            .Then<PriceBookEdition>(checkedBook => new PriceBookEdition
            {
                Id = id,
                Edition = checkedBook.Edition,
                AdoptedAt = now,
                AdoptedBy = by,
                Book = checkedBook,
            });
    }
}
