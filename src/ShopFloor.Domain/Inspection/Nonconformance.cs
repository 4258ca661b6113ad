using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What is done about a fault. ISO 9000:2015, 3.12, names rework, concession and scrap; from memory.</summary>
public enum Disposition
{
    /// <summary>It is mended by an operation of its own and inspected again.</summary>
    Rework,

    /// <summary>It stays as it is; the owner's decision, with a reason.</summary>
    Accept,

    /// <summary>It is thrown away; what replaces it is inspected by the same line.</summary>
    Reject,
}

/// <summary>Why a fault came about, as the shop counts it.</summary>
public enum FaultCause
{
    Material,
    Preparation,
    FitUp,
    Welding,
    Heat,
    Measuring,
    Instruction,
    Damage,
    CustomerPart,
    Other,
}

/// <summary>A line that failed, and what became of it. Opened by the failed reading, closed by a passing one or by the owner's acceptance; never erased.</summary>
public sealed class Nonconformance
{
    public const int MostReworks = 20;

    private Nonconformance() { }

    public NonconformanceId Id { get; private set; }

    public JobId JobId { get; private set; }

    /// <summary>1, 2, 3 … on its job.</summary>
    public int Number { get; private set; }

    public string LineCode { get; private set; } = "";

    public string OperationCode { get; private set; } = "";

    public string What { get; private set; } = "";

    /// <summary>Number of the reading on its line that opened it.</summary>
    public int Reading { get; private set; }

    public string Description { get; private set; } = "";

    public IReadOnlyList<PhotoId> PhotoIds { get; private set; } = [];

    public DateTimeOffset OpenedAt { get; private set; }

    /// <summary>Null where an integration reported it.</summary>
    public PersonId? OpenedBy { get; private set; }

    /// <summary>Null until somebody says it.</summary>
    public FaultCause? Cause { get; private set; }

    /// <summary>The latest decision; null until one is made.</summary>
    public Disposition? Disposition { get; private set; }

    public string? Reason { get; private set; }

    public PersonId? DecidedBy { get; private set; }

    public DateTimeOffset? DecidedAt { get; private set; }

    /// <summary>Codes of the operations put on the route to mend it.</summary>
    public IReadOnlyList<string> Reworks { get; private set; } = [];

    public DateTimeOffset? ClosedAt { get; private set; }

    public PersonId? ClosedBy { get; private set; }

    /// <summary>Number of the passing reading that closed it; null where the owner accepted it.</summary>
    public int? ClosedByReading { get; private set; }

    /// <summary>The reading that opened it was corrected: there was no fault.</summary>
    public bool WasMistyped { get; private set; }

    public bool IsOpen => ClosedAt is null;

    internal static Nonconformance Open(JobId job, int number, InspectionLine line, Reading failed) =>
        new()
        {
            Id = Ids.New<NonconformanceId>(failed.RecordedAt),
            JobId = job,
            Number = number,
            LineCode = line.Code,
            OperationCode = line.OperationCode,
            What = line.What,
            Reading = failed.Number,
            Description =
                failed.Note
                ?? (
                    failed.Value is { } value && line.IsOut(value)
                        ? $"{InspectionLine.Text(value)} {line.Unit}, limits {line.LimitsInWords}"
                        : "Failed at inspection"
                ),
            PhotoIds = failed.PhotoIds,
            OpenedAt = failed.RecordedAt,
            OpenedBy = failed.RecordedBy,
        };

    internal Outcome<Done> Describe(string? description, FaultCause? cause, IReadOnlyList<PhotoId> photos)
    {
        var errors = new FieldErrors();
        var words = TextRules.Optional(description, "description", "The description", TextRules.Note, errors);
        PhotoId[] all = [.. PhotoIds.Concat(photos).Distinct()];
        errors.AddIf(
            all.Length > InspectionLine.MostPhotos,
            "photoIds",
            $"At most {InspectionLine.MostPhotos} photos go with a nonconformance."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Description, Cause, PhotoIds) = (words ?? Description, cause ?? Cause, all);
        return Outcome.Ok;
    }

    internal void Decide(Disposition disposition, string reason, string? rework, PersonId? by, DateTimeOffset at)
    {
        (Disposition, Reason, DecidedBy, DecidedAt) = (disposition, reason, by, at);
        Reworks = rework is null ? Reworks : [.. Reworks, rework];
        if (disposition == Inspection.Disposition.Accept)
        {
            (ClosedAt, ClosedBy) = (at, by);
        }
    }

    internal void Close(Reading passing)
    {
        (ClosedAt, ClosedBy, ClosedByReading) = (passing.RecordedAt, passing.RecordedBy, passing.Number);
        WasMistyped = passing.Corrects == Reading;
    }
}
