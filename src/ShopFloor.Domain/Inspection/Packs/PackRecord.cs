using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Inspection.Packs;

/// <summary>What was measured and looked at on one car, as it is frozen at the sign-off. People are ids; their names stand beside the record and can be erased.</summary>
/// <param name="Schema"><see cref="CurrentSchema"/> when it was written.</param>
/// <param name="Job">The job's number.</param>
/// <param name="Work">What was built, in words.</param>
/// <param name="RuleSets">What the work was held against, with edition and the day it was read.</param>
/// <param name="Lines">In plan order, with every reading.</param>
/// <param name="Nonconformances">What failed, what was decided and how it ended, by number.</param>
/// <param name="Operations">Who did which operation.</param>
/// <param name="Photos">Hashes of the pictures that readings refer to.</param>
/// <param name="SignOffs">Oldest first; the last one is the one that froze this record.</param>
/// <param name="Cautions">What the paper says besides.</param>
/// <param name="Sealed">Hashes of what is kept beside the record because it is about a person.</param>
/// <param name="Materials">What went into the job; null in records up to schema 2.</param>
/// <param name="Joints">Who welded what; null in records up to schema 2.</param>
/// <param name="Accepted">What the owner accepted as not written down; null in records up to schema 2.</param>
public sealed record PackRecord(
    int Schema,
    string Job,
    Guid JobId,
    PackCar Car,
    string Work,
    string Plan,
    int PlanVersion,
    IReadOnlyList<PackRuleSet> RuleSets,
    IReadOnlyList<PackLine> Lines,
    IReadOnlyList<PackNonconformance> Nonconformances,
    IReadOnlyList<PackOperation> Operations,
    IReadOnlyList<PackPhoto> Photos,
    IReadOnlyList<PackSignOff> SignOffs,
    IReadOnlyList<string> Cautions,
    IReadOnlyList<SealedFact> Sealed,
    IReadOnlyList<PackMaterial>? Materials = null,
    IReadOnlyList<PackJoint>? Joints = null,
    IReadOnlyList<PackAcceptance>? Accepted = null
)
{
    /// <summary>Goes up when the layout changes; readers of old records look here first.</summary>
    public const int CurrentSchema = 3;
}

/// <summary>A piece of material with everything written down of it, oldest first; the last entry counts.</summary>
/// <param name="WithdrawnReason">Why it did not go into the job after all.</param>
public sealed record PackMaterial(
    int Number,
    MaterialKind Kind,
    IReadOnlyList<PackMaterialEntry> Entries,
    string? WithdrawnReason,
    Guid? WithdrawnBy,
    DateTimeOffset? WithdrawnAt
);

/// <param name="Mark">Heat or lot number.</param>
/// <param name="CertificateOriginalSha256">Of the certificate as it was sent.</param>
/// <param name="CertificateSha256">Of the certificate as it is kept.</param>
public sealed record PackMaterialEntry(
    string What,
    string? Size,
    string? Grade,
    string? Mark,
    MaterialOrigin Origin,
    string? From,
    string? CertificateOriginalSha256,
    string? CertificateSha256,
    string? Reason,
    Guid? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
);

/// <summary>A welded joint with everything written down of it, oldest first; the last entry counts.</summary>
public sealed record PackJoint(string Code, string What, string Operation, IReadOnlyList<PackWeld> Entries);

/// <param name="Qualification">Process, standard and number as the register said them then.</param>
/// <param name="Filler">Number among the materials.</param>
/// <param name="Gas">Number among the materials.</param>
public sealed record PackWeld(
    Guid Welder,
    string? Qualification,
    DateOnly? ValidUntil,
    bool Expired,
    string? Procedure,
    int? Filler,
    int? Gas,
    DateOnly On,
    string? Note,
    Guid? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
);

/// <summary>What the owner accepted although it was not written down.</summary>
public sealed record PackAcceptance(IReadOnlyList<string> Missing, string Reason, Guid By, DateTimeOffset At);

/// <summary>The car. Its registration plate may be erased and is therefore not part of the record.</summary>
/// <param name="Title">Make, model, year; or what was built where no car is here.</param>
public sealed record PackCar(Guid? Id, string Title, string? ChassisNumber);

/// <param name="Name">Publisher and title.</param>
/// <param name="ReadOn">The day its figures were read; null where it is not known.</param>
public sealed record PackRuleSet(string Code, int Version, string Name, string Edition, DateOnly? ReadOn);

/// <summary>One line with its limits and all its readings in the order taken.</summary>
public sealed record PackLine(
    string Code,
    string Operation,
    string What,
    string How,
    string? Unit,
    decimal? Nominal,
    decimal? Lower,
    decimal? Upper,
    InspectionPoint Point,
    string Source,
    string? Caution,
    LineState State,
    IReadOnlyList<PackReading> Readings
);

/// <param name="Value">In the line's unit; null where it was judged without a number.</param>
/// <param name="Entered">As typed, e.g. <c>1 3/4 in</c>; on a pair of angles the first.</param>
/// <param name="EnteredSecond">On a pair of angles the second.</param>
/// <param name="Uncertainty">The instrument's on that day, in the line's unit.</param>
/// <param name="By">Who took it; null for an integration.</param>
public sealed record PackReading(
    int Number,
    decimal? Value,
    string? Entered,
    string? EnteredSecond,
    Guid? Instrument,
    string? InstrumentName,
    decimal? Uncertainty,
    bool Passed,
    string? Note,
    IReadOnlyList<Guid> Photos,
    int? Corrects,
    Guid? By,
    DateTimeOffset OccurredAt,
    DateTimeOffset RecordedAt
);

/// <summary>Something that failed.</summary>
/// <param name="Reading">Number of the reading of its line that failed.</param>
/// <param name="Reworks">Codes of the operations that mended it.</param>
/// <param name="ClosedByReading">Number of the reading that passed; null where the owner accepted it.</param>
/// <param name="Outcome">What became of it, in a sentence.</param>
public sealed record PackNonconformance(
    int Number,
    string Line,
    string Operation,
    string What,
    int Reading,
    string Description,
    IReadOnlyList<Guid> Photos,
    FaultCause? Cause,
    Disposition? Disposition,
    string? Reason,
    Guid? DecidedBy,
    DateTimeOffset? DecidedAt,
    IReadOnlyList<string> Reworks,
    DateTimeOffset OpenedAt,
    DateTimeOffset? ClosedAt,
    int? ClosedByReading,
    string Outcome
);

/// <summary>An operation that was done.</summary>
/// <param name="By">Everybody with time on it, and who finished it.</param>
public sealed record PackOperation(
    string Code,
    string Title,
    bool HotWork,
    IReadOnlyList<Guid> By,
    DateTimeOffset? FinishedAt
);

/// <param name="OriginalSha256">Of the file as the camera wrote it.</param>
/// <param name="StoredSha256">Of the picture as it is kept.</param>
public sealed record PackPhoto(Guid Id, string OriginalSha256, string StoredSha256, DateTimeOffset? TakenAt);

public sealed record PackSignOff(
    Guid Id,
    Guid By,
    DateTimeOffset At,
    bool IsSelfInspection,
    string? Note,
    DateTimeOffset? WithdrawnAt,
    Guid? WithdrawnBy,
    string? WithdrawnReason
);
