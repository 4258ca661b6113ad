using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Inspection;

/// <summary>Who was there.</summary>
public enum WitnessOutcome
{
    /// <summary>The person who says so.</summary>
    WitnessedByPerson,
    WitnessedByCustomer,

    /// <summary>Notice was given, nobody came; the work went on.</summary>
    NotAttended,
}

/// <summary>Notice that an operation with witness points comes: given when the work before it is over, and kept with what became of it. The operation never waits for it (witness point: ISO 10005 quality-plan usage).</summary>
public sealed class WitnessNotice : IVersioned
{
    private WitnessNotice() { }

    public WitnessNoticeId Id { get; private set; }

    public long Version { get; private set; }

    public JobId JobId { get; private set; }

    public string OperationCode { get; private set; } = "";

    /// <summary>By the server's clock.</summary>
    public DateTimeOffset GivenAt { get; private set; }

    /// <summary>Null until somebody says.</summary>
    public WitnessOutcome? Outcome { get; private set; }

    /// <summary>Who said it; for <see cref="WitnessOutcome.WitnessedByPerson"/> the one who was there.</summary>
    public PersonId? MarkedBy { get; private set; }

    public DateTimeOffset? MarkedAt { get; private set; }

    public string? Note { get; private set; }

    public static WitnessNotice Give(WitnessNoticeId id, JobId job, string operation, DateTimeOffset at) =>
        new()
        {
            Id = id,
            JobId = job,
            OperationCode = operation,
            GivenAt = at,
        };

    /// <summary>Operations with witness lines whose turn has come and of which nobody was told yet: the work before them is over, or they have begun.</summary>
    /// <param name="job">With its operations.</param>
    /// <param name="witnessed">Codes of operations with witness lines.</param>
    /// <param name="told">Codes of operations of which notice was given.</param>
    public static IReadOnlyList<Operation> Due(Job job, IReadOnlySet<string> witnessed, IReadOnlySet<string> told)
    {
        ArgumentNullException.ThrowIfNull(job);
        ArgumentNullException.ThrowIfNull(witnessed);
        ArgumentNullException.ThrowIfNull(told);
        return [.. job.Operations.Where(o => witnessed.Contains(o.Code) && !told.Contains(o.Code) && HasCome(job, o))];
    }

    /// <summary>Its turn has come on this job; what was over when the job was entered here is past.</summary>
    private static bool HasCome(Job job, Operation operation) =>
        operation.IsOver
            ? operation.BegunAt is not null && operation.DoneBeforeOn is null
            : operation.BegunAt is not null
                || operation.Route.After.All(code => job.Operation(code) is not { IsOver: false });

    /// <summary>Says who was there, or that nobody was. May be said anew; the history keeps both.</summary>
    public Outcome<Done> Mark(WitnessOutcome outcome, PersonId? by, string? note, DateTimeOffset at)
    {
        if (by is not { } person)
        {
            return new Failure.Forbidden("Only a person says who was there: use a key that acts as a person.");
        }

        var errors = new FieldErrors();
        var words = TextRules.Optional(note, "note", "The note", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (this.Outcome, MarkedBy, MarkedAt, Note) = (outcome, person, at, words);
        return Common.Outcome.Ok;
    }
}
