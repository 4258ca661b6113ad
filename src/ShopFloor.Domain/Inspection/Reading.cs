using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What somebody enters at a line: a measured value, or passed/failed by eye or by try.</summary>
/// <param name="Value">In the line's unit.</param>
/// <param name="Passed">For lines without a unit; on a measured line only <c>false</c> says something (it failed for another reason than its value).</param>
/// <param name="Note">Anything worth knowing; at most <see cref="TextRules.Note"/> characters.</param>
/// <param name="PhotoIds">Photos that show it; at most <see cref="InspectionLine.MostPhotos"/>.</param>
/// <param name="Corrects">Number of an earlier reading that was mistyped; it stays on record.</param>
/// <param name="Entered">The value as typed, in place of <paramref name="Value"/>; see <see cref="MeasuredText"/>. On a pair of angles the first one.</param>
/// <param name="EnteredSecond">On a pair of angles the second one.</param>
/// <param name="Instrument">What it was read from; null where it is not in the register.</param>
/// <param name="Register">Kinds of instruments that the shop's register holds in use; a line measured with one of these does not pass unless the reading says what it was measured with.</param>
public sealed record ReadingInput(
    decimal? Value = null,
    bool? Passed = null,
    string? Note = null,
    IReadOnlyList<PhotoId>? PhotoIds = null,
    int? Corrects = null,
    string? Entered = null,
    string? EnteredSecond = null,
    InstrumentInUse? Instrument = null,
    IReadOnlySet<InstrumentKind>? Register = null
);

/// <summary>A value as it was typed, and what it says exactly in the line's unit.</summary>
/// <param name="Entered">Null where a device sent the bare number.</param>
/// <param name="First">On a pair: the first of the two, in the line's unit.</param>
/// <param name="Second">On a pair: the second; the value is the first less the second.</param>
public sealed record MeasuredValue(
    decimal Value,
    string? Entered = null,
    string? EnteredSecond = null,
    decimal? First = null,
    decimal? Second = null
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

    /// <summary>In the line's unit; see <see cref="InspectionLine.Decimals"/>. On a pair the first less the second.</summary>
    public decimal? Value { get; private set; }

    /// <summary>As it was typed, e.g. <c>1 3/4 in</c>; null where a device sent the bare number.</summary>
    public string? Entered { get; private set; }

    public string? EnteredSecond { get; private set; }

    /// <summary>The two values of a pair, in the line's unit.</summary>
    public decimal? First { get; private set; }

    public decimal? Second { get; private set; }

    /// <summary>What it was read from; null where it is not in the register.</summary>
    public InstrumentId? Instrument { get; private set; }

    /// <summary>The instrument's name on that day; the register may change later.</summary>
    public string? InstrumentName { get; private set; }

    /// <summary>In the line's unit, on that day; null where nothing is known.</summary>
    public decimal? Uncertainty { get; private set; }

    /// <summary>Within the limits, but by less than the instrument's uncertainty: it passes only together with another reading.</summary>
    public bool IsClose { get; private set; }

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
        MeasuredValue? measured,
        bool passed,
        decimal? uncertainty,
        bool isClose,
        ReadingBy by,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt
    ) =>
        new()
        {
            Id = Ids.New<ReadingId>(recordedAt),
            LineId = line,
            Number = number,
            Value = measured?.Value,
            Entered = measured?.Entered,
            EnteredSecond = measured?.EnteredSecond,
            First = measured?.First,
            Second = measured?.Second,
            Instrument = input.Instrument?.Instrument.Id,
            InstrumentName = input.Instrument?.Instrument.Name,
            Uncertainty = uncertainty,
            IsClose = isClose,
            Passed = passed,
            Note = input.Note,
            PhotoIds = input.PhotoIds ?? [],
            Corrects = input.Corrects,
            RecordedBy = by.Person,
            OccurredAt = occurredAt,
            RecordedAt = recordedAt,
        };
}
