using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>A part as agreed; <see cref="CustomerPart"/> checks it.</summary>
/// <param name="What">"Door panels": needed.</param>
/// <param name="Code">Code by which an operation waits for it, e.g. <c>door-panels</c>; absent where none does.</param>
/// <param name="DueOn">The day the customer promised; needed.</param>
/// <param name="Note">Anything else.</param>
public sealed record CustomerPartDetails(
    string? What,
    string? Code = null,
    DateOnly? DueOn = null,
    string? Note = null
);

public enum CustomerPartState
{
    Awaited,
    Arrived,

    /// <summary>Not coming any more: the job goes on without it.</summary>
    Dropped,
}

/// <summary>Something the customer brings for a job, with the day it is promised.</summary>
public sealed class CustomerPart : IVersioned
{
    /// <summary>Most parts of one job.</summary>
    public const int MostOfJob = 50;

    /// <summary>Days before and after today within which a promised day makes sense.</summary>
    public const int DaysBack = 366;
    public const int DaysAhead = 731;

    private CustomerPart() { }

    public CustomerPartId Id { get; private set; }

    public JobId JobId { get; private set; }

    public string What { get; private set; } = "";

    public string? Code { get; private set; }

    /// <summary>Local day in the shop's zone.</summary>
    public DateOnly DueOn { get; private set; }

    public string? Note { get; private set; }

    public CustomerPartState State { get; private set; }

    public DateTimeOffset? ArrivedAt { get; private set; }

    /// <summary>When the customer was told that the shop waits for it; told once.</summary>
    public DateTimeOffset? MissedAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>SHA-256, in hexadecimal, of what a customer is asked about: which part, due when.</summary>
    public string ContentHash =>
        CanonicalJson.Sha256(
            $"{Id}|{What}|{DueOn.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)}"
        );

    public bool IsLate(DateOnly today) => State == CustomerPartState.Awaited && DueOn < today;

    public static Outcome<CustomerPart> Promise(
        CustomerPartId id,
        JobId jobId,
        CustomerPartDetails details,
        DateOnly today
    )
    {
        var part = new CustomerPart { Id = id, JobId = jobId };
        var applied = part.Apply(details, today);
        return applied.IsSuccess ? part : applied.Failure;
    }

    /// <summary>Another name or day. Refused when it is no longer awaited.</summary>
    public Outcome<Done> Change(CustomerPartDetails details, DateOnly today) =>
        State == CustomerPartState.Awaited ? Apply(details, today) : NotAwaited();

    /// <summary>The shop waits for it now: its day has passed, or the work stands still for it. True the first time only.</summary>
    /// <param name="isStandingStill">The job waits for it and for nothing that comes before.</param>
    /// <param name="today">In the shop's zone.</param>
    /// <param name="at">Now.</param>
    public bool Miss(bool isStandingStill, DateOnly today, DateTimeOffset at)
    {
        if (State != CustomerPartState.Awaited || MissedAt is not null || !(isStandingStill || IsLate(today)))
        {
            return false;
        }

        MissedAt = at;
        return true;
    }

    public Outcome<Done> Arrive(DateTimeOffset at)
    {
        if (State != CustomerPartState.Awaited)
        {
            return NotAwaited();
        }

        State = CustomerPartState.Arrived;
        ArrivedAt = at;
        return Outcome.Ok;
    }

    /// <summary>The part is not coming: the shop supplies it or the work is done without.</summary>
    public Outcome<Done> Drop()
    {
        if (State != CustomerPartState.Awaited)
        {
            return NotAwaited();
        }

        State = CustomerPartState.Dropped;
        return Outcome.Ok;
    }

    /// <summary>Forgets the note, in which anything may have been written.</summary>
    public void ErasePersonalData() => Note = null;

    private Outcome<Done> Apply(CustomerPartDetails details, DateOnly today)
    {
        var errors = new FieldErrors();
        var what = TextRules.Required(details.What, "what", "What the customer brings", TextRules.Name, errors);
        var code = TextRules.Optional(details.Code, "code", "The code", TextRules.Code, errors);
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.ShortText, errors);
        var (first, last) = (today.AddDays(-DaysBack), today.AddDays(DaysAhead));
        if (details.DueOn is not { } due)
        {
            errors.Add("dueOn", "The day on which the customer brings it is needed.");
        }
        else if (due < first || due > last)
        {
            errors.Add(
                "dueOn",
                $"{due:yyyy-MM-dd} is outside {first:yyyy-MM-dd} to {last:yyyy-MM-dd}. Enter the day the customer promised."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        What = what;
        Code = code;
        DueOn = details.DueOn!.Value;
        Note = note;
        return Outcome.Ok;
    }

    private Failure NotAwaited() =>
        State == CustomerPartState.Arrived
            ? Failure.Because("arrived", $"'{What}' arrived on {ArrivedAt:yyyy-MM-dd}.")
            : Failure.Because("dropped", $"'{What}' is not coming any more. Enter it anew if that has changed.");
}
