using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What somebody enters at a line: a measured value, or passed/failed by eye or by try.</summary>
/// <param name="Value">In the line's unit.</param>
/// <param name="Passed">For lines without a unit; on a measured line only <c>false</c> says something (it failed for another reason than its value).</param>
/// <param name="Note">Anything worth knowing; at most <see cref="TextRules.Note"/> characters.</param>
/// <param name="PhotoIds">Photos that show it; at most <see cref="InspectionLine.MostPhotos"/>.</param>
/// <param name="Corrects">Number of an earlier reading that was mistyped; it stays on record.</param>
public sealed record ReadingInput(
    decimal? Value = null,
    bool? Passed = null,
    string? Note = null,
    IReadOnlyList<PhotoId>? PhotoIds = null,
    int? Corrects = null
);

/// <summary>Who enters it. Without a person it is an integration, which may report a failure but pass nothing.</summary>
public sealed record ReadingBy(PersonId? Person, bool IsInspector);

/// <summary>One recorded answer to a line. Never changed and never taken away: a later reading stands beside it.</summary>
public sealed class Reading
{
    private Reading() { }

    public ReadingId Id { get; private set; }

    public InspectionLineId LineId { get; private set; }

    /// <summary>1, 2, 3 … on its line, in the order in which the server took them.</summary>
    public int Number { get; private set; }

    /// <summary>In the line's unit, to four decimals.</summary>
    public decimal? Value { get; private set; }

    public bool Passed { get; private set; }

    public string? Note { get; private set; }

    public IReadOnlyList<PhotoId> PhotoIds { get; private set; } = [];

    /// <summary>Number of the mistyped reading this one corrects.</summary>
    public int? Corrects { get; private set; }

    /// <summary>Null when an integration reported it.</summary>
    public PersonId? RecordedBy { get; private set; }

    /// <summary>When it was read, by the device's clock.</summary>
    public DateTimeOffset OccurredAt { get; private set; }

    /// <summary>When the server took it.</summary>
    public DateTimeOffset RecordedAt { get; private set; }

    internal static Reading Create(
        InspectionLineId line,
        int number,
        ReadingInput input,
        bool passed,
        ReadingBy by,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt
    ) =>
        new()
        {
            Id = Ids.New<ReadingId>(recordedAt),
            LineId = line,
            Number = number,
            Value = input.Value,
            Passed = passed,
            Note = input.Note,
            PhotoIds = input.PhotoIds ?? [],
            Corrects = input.Corrects,
            RecordedBy = by.Person,
            OccurredAt = occurredAt,
            RecordedAt = recordedAt,
        };
}
