using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Decisions;

/// <summary>What a customer wrote by a link: a question that waits for the front desk, or a last word after the job.</summary>
public sealed class CustomerWord : IVersioned
{
    private CustomerWord() { }

    public CustomerWordId Id { get; private set; }

    public DecisionLinkId LinkId { get; private set; }

    public CustomerId CustomerId { get; private set; }

    public JobId? JobId { get; private set; }

    /// <summary>The first quote of its link, where it is about quotes.</summary>
    public QuoteId? QuoteId { get; private set; }

    /// <summary>It is a last word: nobody waits for an answer.</summary>
    public bool IsLast { get; private set; }

    public string Text { get; private set; } = "";

    public DateTimeOffset WrittenAt { get; private set; }

    /// <summary>When the front desk dealt with it.</summary>
    public DateTimeOffset? DoneAt { get; private set; }

    public PersonId? DoneBy { get; private set; }

    /// <summary>What was answered, and how.</summary>
    public string? Answer { get; private set; }

    public long Version { get; private set; }

    public static Outcome<CustomerWord> Write(
        CustomerWordId id,
        DecisionLink link,
        string? text,
        bool isLast,
        DateTimeOffset at
    )
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(
            text,
            "text",
            isLast ? "What you want to tell us" : "Your question",
            TextRules.Note,
            errors
        );
        return errors.Any
            ? errors.ToFailure()
            : new CustomerWord
            {
                Id = id,
                LinkId = link.Id,
                CustomerId = link.CustomerId,
                JobId = link.JobId,
                QuoteId = link.Kind == DecisionKind.Quote ? Common.QuoteId.From(link.Subject) : null,
                IsLast = isLast,
                Text = clean,
                WrittenAt = at,
            };
    }

    /// <summary>The front desk dealt with it; a second time changes nothing but is told.</summary>
    public Outcome<Done> Settle(string? answer, PersonId? by, DateTimeOffset at)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Optional(answer, "answer", "The answer", TextRules.Note, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (DoneAt is not null)
        {
            return Failure.Because("done", "Somebody dealt with this question already.");
        }

        (DoneAt, DoneBy, Answer) = (at, by, clean);
        return Outcome.Ok;
    }

    /// <summary>Forgets what was written.</summary>
    public void Erase()
    {
        Text = Quoting.Quote.ErasedText;
        Answer = Answer is null ? null : Quoting.Quote.ErasedText;
    }
}
