using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Changes;

/// <summary>An agreed addition after work began: reason, content, price and effect on the promised day. From offering on it is frozen, with a hash of everything the customer was told.</summary>
public sealed class ChangeOrder : IVersioned
{
    private ChangeOrder() { }

    public ChangeOrderId Id { get; private set; }

    /// <summary>E.g. <c>CO-2026-0001</c>.</summary>
    public string Number { get; private set; } = "";

    public JobId JobId { get; private set; }

    public ChangeState State { get; private set; }

    public ChangeTerms Terms { get; private set; } = null!;

    public PriceBookId PriceBookId { get; private set; }

    public ChangePrice Price { get; private set; } = null!;

    /// <summary>What the job's total changes by, tax included.</summary>
    public long TotalMinor { get; private set; }

    public DateTimeOffset CreatedAt { get; private set; }

    public PersonId? CreatedBy { get; private set; }

    public DateTimeOffset? OfferedAt { get; private set; }

    /// <summary>The day promised when it was offered.</summary>
    public DateOnly? PromisedBefore { get; private set; }

    /// <summary>Canonical JSON of the change as offered, without personal data.</summary>
    public string? Snapshot { get; private set; }

    /// <summary>SHA-256 of <see cref="Snapshot"/>, 64 lower-case hex digits.</summary>
    public string? ContentHash { get; private set; }

    /// <summary>Approved, declined or withdrawn at.</summary>
    public DateTimeOffset? ClosedAt { get; private set; }

    /// <summary>Who of the shop took the answer, or withdrew it.</summary>
    public PersonId? ClosedBy { get; private set; }

    /// <summary>The customer's name under the yes: personal data, so not in the snapshot.</summary>
    public string? ApprovedBy { get; private set; }

    public ApprovalWay? ApprovedHow { get; private set; }

    /// <summary>Why it was declined or withdrawn.</summary>
    public string? CloseReason { get; private set; }

    public long Version { get; private set; }

    public PricedQuote Priced => Price.Priced;

    /// <summary>A draft or offered: not decided yet.</summary>
    public bool IsOpen => State is ChangeState.Draft or ChangeState.Offered;

    /// <summary>Work waits for it.</summary>
    public bool HoldsWork => State == ChangeState.Offered || (State == ChangeState.Draft && Terms.FromDropOff);

    public static ChangeOrder Draft(
        ChangeOrderId id,
        string number,
        JobId job,
        ChangeTerms terms,
        PriceBookId priceBook,
        ChangePrice price,
        PersonId? by,
        DateTimeOffset now
    )
    {
        var change = new ChangeOrder
        {
            Id = id,
            Number = number,
            JobId = job,
            CreatedAt = now,
            CreatedBy = by,
        };
        change.Take(terms, priceBook, price);
        return change;
    }

    /// <summary>New content with its new price; only a draft can be edited.</summary>
    public Outcome<Done> Edit(ChangeTerms terms, PriceBookId priceBook, ChangePrice price)
    {
        if (State != ChangeState.Draft)
        {
            return Failure.Because(
                "notDraft",
                $"{Number} is {State.Title()} and stays as it is; withdraw it, or write a further change order."
            );
        }

        Take(terms, priceBook, price);
        return Outcome.Ok;
    }

    /// <summary>Freezes the draft: snapshot and hash. Work that it holds waits from now on.</summary>
    /// <param name="promised">The day the job is promised for now.</param>
    public Outcome<Done> Offer(DateOnly? promised, DateOnly today, DateTimeOffset now)
    {
        if (State != ChangeState.Draft)
        {
            return Failure.Because("notDraft", $"{Number} is {State.Title()} already.");
        }

        if (Terms.PromiseOn is { } day && day < today)
        {
            return Failure.Field("promiseOn", $"The new promise date {day:yyyy-MM-dd} has passed; choose a later day.");
        }

        PromisedBefore = promised;
        OfferedAt = now;
        Snapshot = ChangeSnapshot.Write(this);
        ContentHash = CanonicalJson.Sha256(Snapshot);
        State = ChangeState.Offered;
        return Outcome.Ok;
    }

    /// <summary>Takes the customer's yes to exactly what was shown.</summary>
    /// <param name="conditionAgreed">The answers agreed on the job now: another change may have moved them since this one was written.</param>
    public Outcome<Done> Approve(
        string? approvedBy,
        string? contentHash,
        ApprovalWay? how,
        IReadOnlyDictionary<string, string> conditionAgreed,
        PersonId? takenBy,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(conditionAgreed);
        var errors = new FieldErrors();
        var name = TextRules.Required(approvedBy, "approvedBy", "The name of who approves", TextRules.Name, errors);
        var hash = TextRules.Required(contentHash, "contentHash", "The content hash", TextRules.Code, errors);
        errors.AddIf(
            how is null,
            "how",
            "Say how the yes came: atTheCounter (at the counter), byTelephone (by telephone) or inWriting (in writing)."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (RefuseUnlessOffered("approved") is { } refusal)
        {
            return refusal;
        }

        if (!string.Equals(hash, ContentHash, StringComparison.OrdinalIgnoreCase))
        {
            return Failure.Because(
                "contentHash",
                "What was shown is not what was offered: the content hash differs. Load the change order again and show it before approving."
            );
        }

        if (
            Terms.Basis == ChangeBasis.ConditionFound
            && !Terms.ConditionAgreed.OrderBy(p => p.Key).SequenceEqual(conditionAgreed.OrderBy(p => p.Key))
        )
        {
            return Failure.Because(
                "conditionMoved",
                $"Another change to the car's condition was approved after {Number} was priced, so its difference is no longer right. Withdraw it and make a new one."
            );
        }

        ApprovedBy = name;
        ApprovedHow = how;
        Close(ChangeState.Approved, takenBy, now);
        return Outcome.Ok;
    }

    /// <summary>The customer does not want it; the work goes on as agreed before.</summary>
    public Outcome<Done> Decline(string? reason, PersonId? takenBy, DateTimeOffset now) =>
        RefuseUnlessOffered("declined") is { } refusal
            ? refusal
            : CloseWith(reason, ChangeState.Declined, takenBy, now);

    /// <summary>The shop takes a draft or an offer back.</summary>
    public Outcome<Done> Withdraw(string? reason, PersonId? by, DateTimeOffset now) =>
        IsOpen
            ? CloseWith(reason, ChangeState.Withdrawn, by, now)
            : Failure.Because("closed", $"{Number} is {State.Title()} already and cannot be withdrawn.");

    /// <summary>Forgets the customer's name and all free text; the hash stays valid because it covers neither.</summary>
    public void ForgetPerson()
    {
        ApprovedBy = ApprovedBy is null ? null : Quote.ErasedText;
        CloseReason = CloseReason is null ? null : Quote.ErasedText;
        Terms = Terms with { Reason = Quote.ErasedText };
    }

    private void Take(ChangeTerms terms, PriceBookId priceBook, ChangePrice price)
    {
        Terms = terms;
        PriceBookId = priceBook;
        Price = price;
        TotalMinor = price.Priced.TotalMinor;
    }

    private Outcome<Done> CloseWith(string? reason, ChangeState state, PersonId? by, DateTimeOffset now)
    {
        var errors = new FieldErrors();
        var text = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        CloseReason = text;
        Close(state, by, now);
        return Outcome.Ok;
    }

    private void Close(ChangeState state, PersonId? by, DateTimeOffset now)
    {
        State = state;
        ClosedBy = by;
        ClosedAt = now;
    }

    private Failure? RefuseUnlessOffered(string verb) =>
        State switch
        {
            ChangeState.Offered => null,
            ChangeState.Draft => Failure.Because(
                "notOffered",
                $"{Number} is a draft; offer it to the customer before it can be {verb}."
            ),
            _ => Failure.Because("closed", $"{Number} is {State.Title()} already and cannot be {verb}."),
        };
}
