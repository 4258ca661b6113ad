using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Materials;

/// <summary>One time somebody wrote down who welded a joint. Never changed: a correction stands beside it.</summary>
/// <param name="Qualification">Process, standard and number as the register said them then; null where none was named.</param>
/// <param name="ValidUntil">The qualification's last day as the register said it then.</param>
/// <param name="Procedure">The welding procedure as the shop names it; null where none was named.</param>
/// <param name="Filler">Number of the job's filler; null where none was named.</param>
/// <param name="Gas">Number of the job's shielding gas; null where none was named.</param>
/// <param name="On">The day of the weld.</param>
/// <param name="At">By the device.</param>
public sealed record WeldEntry(
    PersonId Welder,
    string? Qualification,
    DateOnly? ValidUntil,
    string? Procedure,
    int? Filler,
    int? Gas,
    DateOnly On,
    string? Note,
    PersonId? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
)
{
    /// <summary>The qualification had run out on the day of the weld.</summary>
    public bool IsExpired => On > ValidUntil;
}

/// <summary>A joint of the job that is welded: from the list for its kit, or added on the floor.</summary>
public sealed class WeldedJoint
{
    public const int MostEntries = 50;

    private WeldedJoint() { }

    public WeldedJointId Id { get; private set; }

    public JobId JobId { get; private set; }

    /// <summary>1, 2, 3 … on its job.</summary>
    public int Position { get; private set; }

    public string Code { get; private set; } = "";

    public string What { get; private set; } = "";

    /// <summary>The operation in which it is welded.</summary>
    public string OperationCode { get; private set; } = "";

    /// <summary>Oldest first; the last one counts, the first one stays.</summary>
    public IReadOnlyList<WeldEntry> Entries { get; private set; } = [];

    public WeldEntry? Latest => Entries.Count == 0 ? null : Entries[^1];

    internal static WeldedJoint Create(WeldedJointId id, JobId job, int position, JointToWeld joint) =>
        new()
        {
            Id = id,
            JobId = job,
            Position = position,
            Code = joint.Code,
            What = joint.What,
            OperationCode = joint.Operation,
        };

    internal Outcome<Done> Weld(WeldEntry entry)
    {
        if (Entries.Count >= MostEntries)
        {
            return Failure.Because("tooManyEntries", $"{What} was written down {MostEntries} times already.");
        }

        Entries = [.. Entries, entry];
        return Outcome.Ok;
    }
}

/// <summary>A joint that a job will have.</summary>
/// <param name="Code">Unique on its job.</param>
/// <param name="Operation">Code of the operation in which it is welded.</param>
public sealed record JointToWeld(string Code, string What, string Operation);
