using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

public enum QuoteState
{
    Draft,
    Sent,
    Accepted,
    Declined,

    /// <summary>Sent, and its last day has passed. Derived from the date when read, never stored.</summary>
    Expired,
    Replaced,
}

/// <summary>Why an offer was not taken, so that the shop can count it.</summary>
public enum LostReason
{
    Price,
    Time,
    WentElsewhere,
    PlanDropped,
    NoAnswer,
    Other,
}

/// <summary>What the front desk fills in; the price follows from it.</summary>
/// <param name="PromiseDate">The day told to the customer; null takes the price book's usual one when sent.</param>
/// <param name="TradeCreditNote">What is given in exchange, in both sides' words.</param>
public sealed record QuoteTerms(
    JobScope Scope,
    Discount Discount,
    long TradeCreditMinor,
    string? TradeCreditNote,
    DateOnly? PromiseDate,
    string? CustomerNote,
    string? InternalNote,
    bool IsTaxExempt
)
{
    /// <summary>Own lines, outside work, freight, and which lines a discount is taken from.</summary>
    public PriceExtras Extras { get; init; } = PriceExtras.None;

    /// <summary>The earlier job that a return visit belongs to.</summary>
    public JobId? ReturnOfJob { get; init; }

    /// <summary>The quote these terms were copied from.</summary>
    public QuoteId? CopiedFrom { get; init; }
}

/// <summary>One revision of an offer for one car: all revisions of a quote share its number. From sending on it is frozen, with a hash of everything the customer saw.</summary>
public sealed class Quote : IVersioned
{
    /// <summary>What stands in the place of an erased text.</summary>
    public const string ErasedText = "(erased)";

    private Quote() { }

    public QuoteId Id { get; private set; }

    /// <summary>Shared by all revisions, e.g. <c>Q-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";

    /// <summary>1, 2, 3 …</summary>
    public int Revision { get; private set; }

    public CustomerId CustomerId { get; private set; }

    /// <summary>Null where a kit is shipped or a part comes without its car.</summary>
    public CarId? CarId { get; private set; }

    public QuoteTerms Terms { get; private set; } = null!;

    public PriceBookId PriceBookId { get; private set; }

    public PricedQuote Priced { get; private set; } = null!;

    /// <summary>The state as stored; see <see cref="StateOn"/> for what holds today.</summary>
    public QuoteState State { get; private set; }

    /// <summary>For lists, so that a total needs no reading of the whole price.</summary>
    public long TotalMinor { get; private set; }

    public DateTimeOffset CreatedAt { get; private set; }

    public DateTimeOffset? SentAt { get; private set; }

    /// <summary>The last local day on which it can be accepted.</summary>
    public DateOnly? ValidUntil { get; private set; }

    /// <summary>Canonical JSON of the offer as sent, without personal data.</summary>
    public string? Snapshot { get; private set; }

    /// <summary>SHA-256 of <see cref="Snapshot"/>, 64 lower-case hex digits.</summary>
    public string? ContentHash { get; private set; }

    public DateTimeOffset? ClosedAt { get; private set; }

    /// <summary>The name of the person who accepted: personal data, so not in the snapshot.</summary>
    public string? AcceptedBy { get; private set; }

    public LostReason? LostReason { get; private set; }

    /// <summary>The same in the customer's words.</summary>
    public string? DeclineReason { get; private set; }

    public long Version { get; private set; }

    public JobScope Scope => Terms.Scope;

    public DateOnly? PromiseDate => Terms.PromiseDate;

    /// <summary>A first draft.</summary>
    public static Quote Draft(
        QuoteId id,
        string number,
        CustomerId customer,
        CarId? car,
        QuoteTerms terms,
        PriceBookId priceBook,
        PricedQuote priced,
        DateTimeOffset now
    )
    {
        var quote = new Quote
        {
            Id = id,
            Number = number,
            Revision = 1,
            CustomerId = customer,
            CarId = car,
            State = QuoteState.Draft,
            CreatedAt = now,
        };
        quote.Take(terms, priceBook, priced);
        return quote;
    }

    /// <summary>What holds on a day: a sent quote is expired from the day after its last.</summary>
    public QuoteState StateOn(DateOnly today) =>
        State == QuoteState.Sent && today > ValidUntil ? QuoteState.Expired : State;

    /// <summary>New terms with their new price; only a draft can be edited.</summary>
    public Outcome<Done> Edit(
        CustomerId customer,
        CarId? car,
        QuoteTerms terms,
        PriceBookId priceBook,
        PricedQuote priced
    )
    {
        if (State != QuoteState.Draft)
        {
            return Failure.Because(
                "notDraft",
                $"Quote {Number} revision {Revision} is {Word(State)} and stays as it is; make a new revision to change it."
            );
        }

        CustomerId = customer;
        CarId = car;
        Take(terms, priceBook, priced);
        return Outcome.Ok;
    }

    /// <summary>Freezes the draft: promise date, last day, snapshot and hash.</summary>
    public Outcome<Done> Send(PriceBook book, DateOnly today, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(book);
        if (State != QuoteState.Draft)
        {
            return Failure.Because("notDraft", $"Quote {Number} revision {Revision} is {Word(State)} already.");
        }

        var promise = Terms.PromiseDate ?? today.AddDays(book.PromiseDays);
        if (promise < today)
        {
            return Failure.Field(
                "promiseDate",
                $"The promise date {promise:yyyy-MM-dd} has passed; choose a later day."
            );
        }

        Terms = Terms with { PromiseDate = promise };
        ValidUntil = today.AddDays(book.ValidityDays);
        SentAt = now;
        Snapshot = QuoteSnapshot.Write(this);
        ContentHash = CanonicalJson.Sha256(Snapshot);
        State = QuoteState.Sent;
        return Outcome.Ok;
    }

    /// <summary>Accepts what was shown: the hash must be the sent one's.</summary>
    public Outcome<Done> Accept(string? acceptedBy, string? contentHash, DateOnly today, DateTimeOffset now)
    {
        var errors = new FieldErrors();
        var name = TextRules.Required(acceptedBy, "acceptedBy", "The name of who accepts", TextRules.Name, errors);
        var hash = TextRules.Required(contentHash, "contentHash", "The content hash", TextRules.Code, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (RefuseUnlessOpen(today, "accepted") is { } refusal)
        {
            return refusal;
        }

        if (!string.Equals(hash, ContentHash, StringComparison.OrdinalIgnoreCase))
        {
            return Failure.Because(
                "contentHash",
                "What was shown is not what was sent: the content hash differs. Load the quote again and show it before accepting."
            );
        }

        AcceptedBy = name;
        ClosedAt = now;
        State = QuoteState.Accepted;
        return Outcome.Ok;
    }

    /// <summary>Closes a sent quote that the customer does not take; an expired one may still be marked as lost.</summary>
    public Outcome<Done> Decline(LostReason why, string? reason, DateTimeOffset now)
    {
        var errors = new FieldErrors();
        var text = TextRules.Optional(reason, "reason", "The reason", TextRules.Note, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (RefuseUnlessOpen(DateOnly.MinValue, "declined") is { } refusal)
        {
            return refusal;
        }

        LostReason = why;
        DeclineReason = text;
        ClosedAt = now;
        State = QuoteState.Declined;
        return Outcome.Ok;
    }

    /// <summary>A new draft with the same number and terms, priced afresh. The old one stays open until the new one is sent.</summary>
    /// <param name="newestRevision">The highest revision of this number.</param>
    public Outcome<Quote> Revise(
        QuoteId id,
        int newestRevision,
        PriceBookId priceBook,
        PricedQuote priced,
        DateTimeOffset now
    )
    {
        if (State is QuoteState.Draft or QuoteState.Accepted || newestRevision != Revision)
        {
            return Failure.Because(RevisionRefusal(newestRevision).Code, RevisionRefusal(newestRevision).Text);
        }

        var next = Draft(id, Number, CustomerId, CarId, Terms with { PromiseDate = null }, priceBook, priced, now);
        next.Revision = Revision + 1;
        return next;
    }

    /// <summary>Marks an earlier revision as overtaken by one that was sent; an accepted one forbids it.</summary>
    public Outcome<Done> ReplaceBy(Quote sent)
    {
        ArgumentNullException.ThrowIfNull(sent);
        if (State == QuoteState.Accepted)
        {
            return Failure.Because(
                "accepted",
                $"Revision {Revision} of {Number} was accepted meanwhile; a newer one can no longer be sent."
            );
        }

        State = QuoteState.Replaced;
        return Outcome.Ok;
    }

    /// <summary>Forgets the name of who accepted and all free text, on the customer's wish; the hash stays valid because it covers neither.</summary>
    public void ForgetPerson()
    {
        AcceptedBy = AcceptedBy is null ? null : ErasedText;
        DeclineReason = DeclineReason is null ? null : ErasedText;
        Terms = Terms with { CustomerNote = null, InternalNote = null, TradeCreditNote = null };
    }

    private void Take(QuoteTerms terms, PriceBookId priceBook, PricedQuote priced)
    {
        Terms = terms;
        PriceBookId = priceBook;
        Priced = priced;
        TotalMinor = priced.TotalMinor;
    }

    private (string Code, string Text) RevisionRefusal(int newestRevision) =>
        State switch
        {
            QuoteState.Draft => ("draft", $"Quote {Number} revision {Revision} is still a draft: edit it."),
            QuoteState.Accepted => (
                "accepted",
                $"Quote {Number} revision {Revision} was accepted; make a new quote for anything else."
            ),
            _ => ("newerRevision", $"Quote {Number} already has revision {newestRevision}: go on with that one."),
        };

    private Failure? RefuseUnlessOpen(DateOnly today, string verb) =>
        StateOn(today) switch
        {
            QuoteState.Sent => null,
            QuoteState.Draft => Failure.Because(
                "notSent",
                $"Quote {Number} is a draft; send it before it can be {verb}."
            ),
            QuoteState.Replaced => Failure.Because(
                "replaced",
                $"Revision {Revision} of quote {Number} was replaced by a newer one; show the newest revision."
            ),
            QuoteState.Expired => Failure.Because(
                "expired",
                $"Quote {Number} was valid until {ValidUntil:yyyy-MM-dd}; make a new revision and send it."
            ),
            _ => Failure.Because("closed", $"Quote {Number} is {Word(State)} already and cannot be {verb}."),
        };

    /// <summary>The state as people read it.</summary>
    public static string Word(QuoteState state) =>
        state switch
        {
            QuoteState.Draft => "a draft",
            QuoteState.Sent => "sent",
            QuoteState.Accepted => "accepted",
            QuoteState.Declined => "declined",
            QuoteState.Expired => "expired",
            QuoteState.Replaced => "replaced",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
