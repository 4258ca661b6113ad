namespace ShopFloor.Documents.Papers.Models;

/// <summary>The sheet by which a customer allows the shop to cut and weld, to be signed on screen or by pen.</summary>
/// <param name="Reference">Job or quote number.</param>
/// <param name="Work">What will be done, a sentence each.</param>
/// <param name="Found">Condition as found, and what differs from the quote, in words.</param>
/// <param name="StaysFitted">What stays in the car while the work is done.</param>
/// <param name="CustomerParts">What the customer brings, with its day.</param>
/// <param name="Use">What the car is for, in words.</param>
/// <param name="MayPublishPhotos">The customer's consent; null when not asked yet: then the sheet has boxes to tick.</param>
/// <param name="Signature">Null leaves lines for pen and ink.</param>
public sealed record AuthorisationPaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string Reference,
    DateOnly Date,
    IReadOnlyList<string> Work,
    IReadOnlyList<PaperFact> Found,
    IReadOnlyList<string> StaysFitted,
    IReadOnlyList<string> CustomerParts,
    string Use,
    IReadOnlyList<PaperRuleSet> RuleSets,
    bool? MayPublishPhotos,
    PaperSignature? Signature
);

/// <summary>One step of the traveller.</summary>
/// <param name="Code">Its number on the route, e.g. <c>170</c>.</param>
/// <param name="Phase">The phase in words; a heading is printed where it changes.</param>
/// <param name="WaitsFor">What must be so before it starts, a short sentence each.</param>
/// <param name="Cautions">Short cautions for this step.</param>
/// <param name="IsInspection">An inspection by another person than the one who worked.</param>
/// <param name="IsDone">Printed with a ticked box.</param>
/// <param name="Figures">Of the workbench, saved for this step.</param>
public sealed record TravellerOperation(
    string Code,
    string Phase,
    string Title,
    IReadOnlyList<string> WaitsFor,
    IReadOnlyList<string> Cautions,
    bool IsInspection,
    bool IsDone,
    IReadOnlyList<TravellerFigure> Figures
);

/// <summary>Figures of the workbench to work by.</summary>
/// <param name="Title">Which tube, which end, which plate.</param>
/// <param name="Warnings">To be read before metal is cut.</param>
public sealed record TravellerFigure(string Title, IReadOnlyList<PaperFact> Lines, IReadOnlyList<string> Warnings);

/// <summary>The paper that stays with the car.</summary>
/// <param name="Warnings">What anybody at the car must know first: high voltage, tank stays fitted, airbags.</param>
/// <param name="Figures">Of the workbench, saved for the job as a whole.</param>
/// <param name="CarUrl">The job's page, printed as a QR code for a tablet or phone.</param>
/// <param name="Now">Who is on what and what is on hold at the moment of printing, a sentence each.</param>
/// <param name="PaperLines">Empty lines for times by pen, while the server cannot be reached.</param>
public sealed record TravellerPaper(
    PaperShop Shop,
    PaperCar Car,
    string JobNumber,
    string CustomerName,
    string KitName,
    DateOnly? PromiseDate,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<string> Warnings,
    IReadOnlyList<TravellerFigure> Figures,
    IReadOnlyList<TravellerOperation> Operations,
    string CarUrl,
    IReadOnlyList<string> Now,
    int PaperLines = 0
);

/// <summary>How an inspection line stands.</summary>
public enum PaperResult
{
    NotYet,
    Passed,
    Failed,
    DoesNotApply,

    /// <summary>Failed, and the owner accepted it as it is, with a reason.</summary>
    Accepted,
}

/// <summary>One reading of a line.</summary>
/// <param name="Value">Null where the line is judged without a number.</param>
/// <param name="By">Who read it.</param>
/// <param name="At">When, in the shop's offset.</param>
public sealed record PaperReading(
    double? Value,
    PaperResult Result,
    string By,
    DateTimeOffset At,
    string? Instrument = null,
    string? Note = null,
    int PhotoCount = 0
);

/// <summary>One line of the inspection plan with all its readings, oldest first; the last one counts.</summary>
/// <param name="Operation">Code of the operation it belongs to.</param>
/// <param name="Unit">Of limits and values; null where the line is judged without a number.</param>
/// <param name="Source">Where the limit comes from: rule set and section, or the shop itself.</param>
/// <param name="IsHold">Work stops until it is passed.</param>
public sealed record PaperInspectionLine(
    string Code,
    string Operation,
    string Title,
    string? Unit,
    double? Lower,
    double? Nominal,
    double? Upper,
    string? Source,
    bool IsHold,
    PaperResult Result,
    IReadOnlyList<PaperReading> Readings
);

/// <summary>A failed line and what was done about it.</summary>
public sealed record PaperNonconformance(string Line, string Found, string Disposition, bool IsClosed);

/// <summary>The second person's release.</summary>
/// <param name="IsSelfInspection">The same person worked and inspected; the paper says so.</param>
/// <param name="Signature">As drawn; null leaves lines for pen and ink.</param>
/// <param name="WithdrawnAt">When it was taken back; null while it stands.</param>
public sealed record PaperSignOff(
    string By,
    DateTimeOffset At,
    bool IsSelfInspection,
    string? Note = null,
    PaperSignature? Signature = null,
    DateTimeOffset? WithdrawnAt = null,
    string? WithdrawnReason = null
);

/// <summary>An operation that was done, and by whom.</summary>
/// <param name="At">When it was finished; null where nobody recorded it.</param>
public sealed record PaperWorkDone(string Code, string Title, bool IsHotWork, string By, DateTimeOffset? At);

/// <summary>A photo that proves a reading.</summary>
/// <param name="Caption">Line and reading it belongs to.</param>
/// <param name="Picture">JPEG or PNG; null where the picture was removed.</param>
/// <param name="Sha256">Of the kept picture at full size.</param>
public sealed record PaperPhoto(string Caption, ReadOnlyMemory<byte>? Picture, string Sha256);

/// <summary>By what a paper can be held against the stored record years later.</summary>
/// <param name="Sha256">Hash of the record's canonical JSON.</param>
/// <param name="Url">Public page that says whether the record exists unchanged; printed as a QR code.</param>
public sealed record PaperRecord(string Sha256, string Url);

/// <summary>What was measured and looked at on one job, against which limits, by whom and when.</summary>
/// <param name="Work">In route order; empty leaves the section out.</param>
/// <param name="Cautions">A sentence each.</param>
/// <param name="Record">Null while open.</param>
public sealed record InspectionPaper(
    PaperShop Shop,
    string CustomerName,
    PaperCar Car,
    string JobNumber,
    string KitName,
    IReadOnlyList<PaperRuleSet> RuleSets,
    IReadOnlyList<PaperInspectionLine> Lines,
    IReadOnlyList<PaperNonconformance> Nonconformances,
    IReadOnlyList<PaperWorkDone> Work,
    IReadOnlyList<PaperPhoto> Photos,
    IReadOnlyList<string> Cautions,
    PaperSignOff? SignOff,
    PaperRecord? Record,
    PaperTrace? Trace = null
);

/// <summary>What went into the job and who welded it.</summary>
/// <param name="Accepted">What was not written down and the owner accepted, a sentence each.</param>
public sealed record PaperTrace(
    IReadOnlyList<PaperMaterial> Materials,
    IReadOnlyList<PaperWeld> Welds,
    IReadOnlyList<string> Accepted
);

/// <param name="Piece">Kind and what it is.</param>
/// <param name="Mark">Heat or lot number; null where none is written down.</param>
/// <param name="Notes">Where from, certificate hash, who entered it, corrections: a line each.</param>
public sealed record PaperMaterial(int Number, string Piece, string Size, string? Mark, IReadOnlyList<string> Notes);

/// <param name="By">The welder; null where none is written down.</param>
/// <param name="How">Qualification, procedure, filler and gas.</param>
/// <param name="Notes">Expired qualification, corrections: a line each.</param>
public sealed record PaperWeld(
    string Operation,
    string Joint,
    string? By,
    DateOnly? On,
    string How,
    IReadOnlyList<string> Notes
);
