using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A price book as adopted: kept for ever, because quotes refer to it. There is no method that changes one; a change is a further edition.</summary>
public sealed class PriceBookEdition
{
    private PriceBookEdition() { }

    public PriceBookId Id { get; private set; }

    /// <summary>1 for the first one adopted, then one more each time.</summary>
    public int Edition { get; private set; }

    /// <summary>The local day from which it is in force, unless a newer edition is by then.</summary>
    public DateOnly EffectiveFrom { get; private set; }

    public DateTimeOffset AdoptedAt { get; private set; }

    public PersonId? AdoptedBy { get; private set; }

    public PriceBook Book { get; private set; } = null!;

    /// <summary>Adopts a book that is in force from today.</summary>
    public static Outcome<PriceBookEdition> Adopt(
        PriceBookId id,
        PriceBook book,
        int newestEdition,
        DateOnly today,
        DateTimeOffset now,
        PersonId? by
    ) => Adopt(id, book, newestEdition, today, today, now, by);

    /// <summary>How far ahead a day of coming into force may lie.</summary>
    public const int MostDaysAhead = 730;

    /// <summary>Adopts a book as the edition after <paramref name="newestEdition"/> (0 when it is the first), in force from a day: today or later.</summary>
    public static Outcome<PriceBookEdition> Adopt(
        PriceBookId id,
        PriceBook book,
        int newestEdition,
        DateOnly from,
        DateOnly today,
        DateTimeOffset now,
        PersonId? by
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        if (from < today || from > today.AddDays(MostDaysAhead))
        {
            return Failure.Field(
                "effectiveFrom",
                $"An edition comes into force today ({today:yyyy-MM-dd}) or up to {MostDaysAhead} days later, not on {from:yyyy-MM-dd}."
            );
        }

        var numbered = book with { Edition = newestEdition + 1, EffectiveFrom = from };
        return PriceBookRules
            .Check(numbered)
            .Then<PriceBookEdition>(checkedBook => new PriceBookEdition
            {
                Id = id,
                Edition = checkedBook.Edition,
                EffectiveFrom = checkedBook.EffectiveFrom,
                AdoptedAt = now,
                AdoptedBy = by,
                Book = checkedBook,
            });
    }
}
