using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

public enum CostKind
{
    /// <summary>A supplier's bill for material or parts of this job.</summary>
    SupplierBill,

    /// <summary>Work done elsewhere: coating, bending.</summary>
    OutsideWork,
}

/// <summary>A cost as typed in; <see cref="JobCost"/> checks it.</summary>
/// <param name="AmountMinor">Without tax, over 0.</param>
/// <param name="TaxMinor">Tax on it, 0 or more; absent means none.</param>
/// <param name="On">Date of the bill.</param>
/// <param name="Operation">Code of the operation it was for; null for the job as a whole.</param>
public sealed record CostDetails(
    CostKind? Kind,
    string? Supplier,
    string? Description,
    long? AmountMinor,
    long? TaxMinor,
    DateOnly? On,
    string? Reference,
    string? Operation
);

/// <summary>What a job costs the shop. Never changed; a mistake is taken back with a reason and booked anew.</summary>
public sealed class JobCost : IVersioned
{
    /// <summary>Most that are kept on one job.</summary>
    public const int MostOfJob = 500;

    private JobCost() { }

    public JobCostId Id { get; private set; }

    public JobId JobId { get; private set; }

    public CostKind Kind { get; private set; }

    public string Supplier { get; private set; } = "";

    public string? Description { get; private set; }

    public long AmountMinor { get; private set; }

    public long TaxMinor { get; private set; }

    public DateOnly On { get; private set; }

    /// <summary>The supplier's number of the bill.</summary>
    public string? Reference { get; private set; }

    public string? OperationCode { get; private set; }

    /// <summary>Hash of the stored bill; null where there is none.</summary>
    public string? PaperHash { get; private set; }

    public DateTimeOffset BookedAt { get; private set; }

    public PersonId? BookedBy { get; private set; }

    public DateTimeOffset? ReversedAt { get; private set; }

    public PersonId? ReversedBy { get; private set; }

    public string? ReverseReason { get; private set; }

    public long Version { get; private set; }

    public bool Counts => ReversedAt is null;

    /// <summary>Books a cost.</summary>
    /// <param name="operations">Codes of the job's operations.</param>
    /// <param name="others">All costs booked to this job so far, those taken back included.</param>
    /// <param name="stamp">Its day is the shop's today: bills are not dated later.</param>
    public static Outcome<JobCost> Book(
        JobCostId id,
        JobId job,
        CostDetails details,
        IReadOnlyCollection<string> operations,
        IReadOnlyCollection<JobCost> others,
        EntryStamp stamp
    )
    {
        ArgumentNullException.ThrowIfNull(details);
        ArgumentNullException.ThrowIfNull(others);
        ArgumentNullException.ThrowIfNull(stamp);
        if (others.Count >= MostOfJob)
        {
            return Failure.Because("tooManyCosts", $"This job has {others.Count} costs; no more are kept.");
        }

        var errors = new FieldErrors();
        errors.AddIf(details.Kind is null, "kind", "Say what it is: supplierBill or outsideWork.");
        var supplier = TextRules.Required(details.Supplier, "supplier", "The supplier", TextRules.Name, errors);
        var description = TextRules.Optional(
            details.Description,
            "description",
            "The description",
            TextRules.ShortText,
            errors
        );
        var reference = TextRules.Optional(
            details.Reference,
            "reference",
            "The supplier's number",
            TextRules.Code,
            errors
        );
        errors.AddIf(details.AmountMinor is null, "amountMinor", "The amount without tax is needed.");
        errors.AddIf(
            details.AmountMinor is <= 0 or > TotalsRules.LargestMinor,
            "amountMinor",
            "The amount must be over 0; give it without tax."
        );
        TotalsRules.CheckAmount(details.TaxMinor ?? 0, "taxMinor", "The tax", errors);
        errors.AddIf(
            details.TaxMinor > details.AmountMinor,
            "taxMinor",
            "The tax is more than the amount; give the amount without tax first, then its tax."
        );
        errors.AddIf(details.On is null, "on", "The date of the bill is needed.");
        errors.AddIf(details.On > stamp.On, "on", "The bill is dated in the future; look at its date again.");
        errors.AddIf(
            details.On < stamp.On.AddYears(-5),
            "on",
            "The bill is more than five years old; look at its date again."
        );
        errors.AddIf(
            details.Operation is { } code && !operations.Contains(code),
            "operation",
            "This job's route has no such operation."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var cost = new JobCost
        {
            Id = id,
            JobId = job,
            Kind = details.Kind!.Value,
            Supplier = supplier,
            Description = description,
            AmountMinor = details.AmountMinor!.Value,
            TaxMinor = details.TaxMinor ?? 0,
            On = details.On!.Value,
            Reference = reference,
            OperationCode = details.Operation,
            BookedAt = stamp.RecordedAt,
            BookedBy = stamp.RecordedBy,
        };
        return cost.RefuseBeside([.. others.Where(o => o.Counts)]) is { } refused ? refused : cost;
    }

    /// <summary>One bill may be split over operations or amounts; the same part of it is booked once.</summary>
    private Failure? RefuseBeside(IReadOnlyCollection<JobCost> others)
    {
        if (
            Reference is not null
            && others.FirstOrDefault(o =>
                o.AmountMinor == AmountMinor
                && o.OperationCode == OperationCode
                && IsSame(o.Reference, Reference)
                && IsSame(o.Supplier, Supplier)
            )
                is { } same
        )
        {
            return Failure.Field(
                "reference",
                $"Bill {same.Reference} of {same.Supplier}, dated {same.On:yyyy-MM-dd}, is booked to this job with this amount already. If it is another bill, give it its own number."
            );
        }

        return others.Aggregate((Int128)AmountMinor, (sum, o) => sum + o.AmountMinor) > TotalsRules.LargestMinor
            ? Failure.Field(
                "amountMinor",
                "With this the costs of the job are more than can be added up; check the amount."
            )
            : null;
    }

    /// <summary>Typed alike but for spaces and capital letters.</summary>
    private static bool IsSame(string? one, string? other) =>
        string.Equals(Bare(one), Bare(other), StringComparison.OrdinalIgnoreCase);

    private static string Bare(string? text) => string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c)));

    /// <summary>Puts the bill beside it; an earlier one is replaced.</summary>
    public Outcome<Done> Attach(string paperHash)
    {
        if (!Counts)
        {
            return TakenBack();
        }

        PaperHash = paperHash;
        return Outcome.Ok;
    }

    /// <summary>Takes the cost back; it stays readable and no longer counts.</summary>
    public Outcome<Done> Reverse(string reason, DateTimeOffset at, PersonId? by)
    {
        if (!Counts)
        {
            return TakenBack();
        }

        (ReversedAt, ReversedBy, ReverseReason) = (at, by, reason);
        return Outcome.Ok;
    }

    private static Failure TakenBack() =>
        Failure.Because("reversed", "This cost was taken back already. Book the right one as a new cost.");
}
