using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The shop's working copy of its price book: changed at leisure, by one after the other, and adopted as an edition or thrown away. No quote ever uses it.</summary>
/// <remarks>It may hold what <see cref="PriceBookRules"/> would refuse, such as a code whose entry comes later; only adopting asks them.</remarks>
public sealed class PriceBookDraft : IVersioned
{
    private PriceBookDraft() { }

    public PriceBookDraftId Id { get; private set; }

    /// <summary>Always 1: a unique column, so that two people who begin at once get one working copy.</summary>
    public int Slot { get; private set; } = 1;

    /// <summary>Edition that it began from.</summary>
    public int FromEdition { get; private set; }

    public DateTimeOffset BegunAt { get; private set; }

    public PersonId? BegunBy { get; private set; }

    public DateTimeOffset ChangedAt { get; private set; }

    public PersonId? ChangedBy { get; private set; }

    public PriceBook Book { get; private set; } = null!;

    public long Version { get; private set; }

    /// <summary>A working copy of an edition.</summary>
    public static PriceBookDraft Begin(PriceBookDraftId id, PriceBookEdition from, DateTimeOffset now, PersonId? by)
    {
        ArgumentNullException.ThrowIfNull(from);
        return new PriceBookDraft
        {
            Id = id,
            FromEdition = from.Edition,
            BegunAt = now,
            BegunBy = by,
            ChangedAt = now,
            ChangedBy = by,
            Book = from.Book with { Edition = 0 },
        };
    }

    /// <summary>Takes a changed book in the place of what is there. The currency is the shop's and stays.</summary>
    public Outcome<Done> Change(PriceBook book, DateTimeOffset now, PersonId? by)
    {
        ArgumentNullException.ThrowIfNull(book);
        if (book.CurrencyCode != Book.CurrencyCode)
        {
            return Failure.Field(
                "currencyCode",
                $"The price book counts in {Book.CurrencyCode}; it cannot change to {book.CurrencyCode}."
            );
        }

        Book = book with { Edition = 0, EffectiveFrom = Book.EffectiveFrom };
        ChangedAt = now;
        ChangedBy = by;
        return Outcome.Ok;
    }
}
