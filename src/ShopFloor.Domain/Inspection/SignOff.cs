using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What must be known to release a car.</summary>
/// <param name="By">Who releases it; null for an integration, which cannot.</param>
/// <param name="WorkedOn">Everybody who did work on the job (inspecting it is not work on it).</param>
/// <param name="SelfInspectionAllowed">The shop's own choice; the papers then say so.</param>
/// <param name="MayGo">The account is settled, or the owner lets the car go with a balance due: <see cref="Accounts.JobAccount.MayGo"/>.</param>
/// <param name="OpenMatters">What else stands in the way: unfinished operations and the like.</param>
/// <param name="Note">Anything the signer adds.</param>
public sealed record SignOffRequest(
    PersonId? By,
    IReadOnlySet<PersonId> WorkedOn,
    bool SelfInspectionAllowed,
    bool MayGo,
    IReadOnlyList<Reason> OpenMatters,
    string? Note = null
);

/// <summary>A person's release of the finished car. It can be withdrawn with a reason; it is never erased.</summary>
public sealed class SignOff
{
    private SignOff() { }

    public SignOffId Id { get; private set; }

    public JobId JobId { get; private set; }

    public PersonId SignedBy { get; private set; }

    /// <summary>When the person signed, by the device's clock.</summary>
    public DateTimeOffset SignedAt { get; private set; }

    public DateTimeOffset RecordedAt { get; private set; }

    public string? Note { get; private set; }

    /// <summary>The signer had worked on the job: the shop allows self-inspection, and the papers say so.</summary>
    public bool IsSelfInspection { get; private set; }

    public DateTimeOffset? WithdrawnAt { get; private set; }

    public PersonId? WithdrawnBy { get; private set; }

    public string? WithdrawnReason { get; private set; }

    public bool Stands => WithdrawnAt is null;

    internal static SignOff Create(
        JobId job,
        PersonId by,
        bool isSelfInspection,
        string? note,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt
    ) =>
        new()
        {
            Id = Ids.New<SignOffId>(recordedAt),
            JobId = job,
            SignedBy = by,
            SignedAt = occurredAt,
            RecordedAt = recordedAt,
            Note = note,
            IsSelfInspection = isSelfInspection,
        };

    internal void Withdraw(PersonId by, string reason, DateTimeOffset at)
    {
        WithdrawnAt = at;
        WithdrawnBy = by;
        WithdrawnReason = reason;
    }
}
