using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Domain.Decisions;

/// <summary>The one thing that a link lets a customer say.</summary>
public enum DecisionKind
{
    /// <summary>Which of the offered quotes is taken, or none.</summary>
    Quote,

    /// <summary>Whether a change order is approved.</summary>
    Change,

    /// <summary>When a part that the customer brings will be here.</summary>
    PartDay,

    /// <summary>What the customer has to say when the car is theirs again.</summary>
    LastWord,

    /// <summary>Whether the time at which the car is brought or fetched suits.</summary>
    Appointment,
}

/// <summary>What was answered.</summary>
public enum DecisionAnswer
{
    Accepted,
    Declined,
    Told,
}

/// <summary>Permission to say one thing, once, without an account. The shop keeps only the hash of its token.</summary>
public sealed class DecisionLink : IVersioned
{
    /// <summary>Quotes among which the customer may choose.</summary>
    public const int MostVariants = 4;

    /// <summary>Questions that one link takes.</summary>
    public const int MostQuestions = 5;

    public const int LeastDays = 1;
    public const int MostDays = 120;
    public const int DefaultDays = 60;

    private DecisionLink() { }

    public DecisionLinkId Id { get; private set; }

    public DecisionKind Kind { get; private set; }

    public CustomerId CustomerId { get; private set; }

    /// <summary>Null for quotes, which come before the job.</summary>
    public JobId? JobId { get; private set; }

    /// <summary>The quotes in the order in which they are shown, the change order, the part, the appointment, or the job.</summary>
    public IReadOnlyList<Guid> Subjects { get; private set; } = [];

    /// <summary>The first of <see cref="Subjects"/>: where the office looks for the link.</summary>
    public Guid Subject { get; private set; }

    /// <summary>SHA-256 of the token's characters.</summary>
    public string TokenHash { get; private set; } = "";

    public DateTimeOffset CreatedAt { get; private set; }

    public DateTimeOffset ExpiresAt { get; private set; }

    public DateTimeOffset? RevokedAt { get; private set; }

    public DateTimeOffset? UsedAt { get; private set; }

    public DecisionAnswer? Answer { get; private set; }

    /// <summary>The name typed with an answer that has no other place for it.</summary>
    public string? AnsweredBy { get; private set; }

    public int QuestionsAsked { get; private set; }

    public long Version { get; private set; }

    /// <summary>Makes a link and its token, which is handed out once.</summary>
    public static Outcome<(DecisionLink Link, string Token)> Create(
        DecisionKind kind,
        CustomerId customer,
        JobId? job,
        IReadOnlyList<Guid> subjects,
        int? days,
        DateTimeOffset at
    )
    {
        ArgumentOutOfRangeException.ThrowIfZero(subjects.Count);
        if (days is < LeastDays or > MostDays)
        {
            return Failure.Field("validDays", $"A link is valid for {LeastDays} to {MostDays} days, not {days}.");
        }

        if (subjects.Count > MostVariants || subjects.Distinct().Count() != subjects.Count)
        {
            return Failure.Field(
                "variants",
                $"A customer chooses among at most {MostVariants} quotes, each of them once; these are {subjects.Count}."
            );
        }

        var token = ProgressToken.New();
        var link = new DecisionLink
        {
            Id = Ids.New<DecisionLinkId>(at),
            Kind = kind,
            CustomerId = customer,
            JobId = job,
            Subjects = [.. subjects],
            Subject = subjects[0],
            TokenHash = ProgressToken.Hash(token),
            CreatedAt = at,
            ExpiresAt = at.AddDays(days ?? DefaultDays),
        };
        return (link, token);
    }

    /// <summary>Whether it opens its page: also after the answer, which it then shows.</summary>
    public bool IsValidAt(DateTimeOffset at) => RevokedAt is null && at < ExpiresAt;

    /// <summary>Takes the answer; a second one is refused.</summary>
    public Outcome<Done> Use(DecisionAnswer answer, DateTimeOffset at)
    {
        if (UsedAt is { } used)
        {
            return Failure.Because(
                "answered",
                $"This was answered on {used:yyyy-MM-dd}. Call the shop if it should be otherwise."
            );
        }

        UsedAt = at;
        Answer = answer;
        return Outcome.Ok;
    }

    /// <summary>Keeps who answered.</summary>
    public Outcome<Done> Sign(string? name)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(name, "name", "Your name", TextRules.Name, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        AnsweredBy = clean;
        return Outcome.Ok;
    }

    /// <summary>Forgets who answered.</summary>
    public void Erase() => AnsweredBy = AnsweredBy is null ? null : Quoting.Quote.ErasedText;

    /// <summary>Counts a question; asking leaves the answer open.</summary>
    public Outcome<Done> Ask()
    {
        if (QuestionsAsked >= MostQuestions)
        {
            return Failure.Because(
                "questions",
                $"{MostQuestions} questions came by this link already. Please call the shop."
            );
        }

        QuestionsAsked++;
        return Outcome.Ok;
    }

    /// <summary>Ends its life; ending it again changes nothing.</summary>
    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;
}
