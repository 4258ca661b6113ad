using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

public enum LineState
{
    /// <summary>Nothing recorded yet.</summary>
    Open,
    Passed,

    /// <summary>The latest reading failed; another, passing one is needed.</summary>
    Failed,

    /// <summary>The latest reading passed, but so near a limit that the instrument may be wrong about it: it is read once more.</summary>
    ReadAgain,

    /// <summary>Failed, and the owner accepted it as it is, with a reason.</summary>
    Accepted,
}

/// <summary>What the states of a line mean for the work.</summary>
public static class LineStates
{
    /// <summary>Nothing more is asked for: it passed, or the owner accepted it.</summary>
    public static bool IsSettled(this LineState state) => state is LineState.Passed or LineState.Accepted;
}

/// <summary>One line of a job's inspection: what to look at, within which limits, and every reading taken of it.</summary>
/// <remarks>Limits are inclusive. Values are kept and judged to eight decimals of the line's unit, which holds every fraction of a tape exactly (25.4 mm / 128 = 0.1984375 mm).</remarks>
public sealed class InspectionLine : IHoldLine
{
    public const int Decimals = 8;
    public const decimal LargestValue = 1_000_000m;
    public const int LongestUnit = 16;
    public const int MostReadings = 100;
    public const int MostPhotos = 20;

    private readonly List<Reading> readings = [];

    private InspectionLine() { }

    public InspectionLineId Id { get; private set; }

    public JobId JobId { get; private set; }

    public string Code { get; private set; } = "";

    /// <summary>Place in the plan, from 1.</summary>
    public int Position { get; private set; }

    public string OperationCode { get; private set; } = "";

    public string What { get; private set; } = "";

    public string How { get; private set; } = "";

    /// <summary>Null when the line is answered with passed or failed.</summary>
    public string? Unit { get; private set; }

    public decimal? Nominal { get; private set; }

    public decimal? Lower { get; private set; }

    public decimal? Upper { get; private set; }

    public bool PhotoRequired { get; private set; }

    public InspectionPoint Point { get; private set; }

    /// <summary>The customer's page tells of this witness point.</summary>
    public bool CustomerMayAttend { get; private set; }

    public RecordedBy RecordedBy { get; private set; }

    public string Source { get; private set; } = "";

    public string? Caution { get; private set; }

    /// <summary>Names of the two values that are read and compared, e.g. straight-leg angle and angle past the bend; null for a single value.</summary>
    public IReadOnlyList<string>? Pair { get; private set; }

    /// <summary>The limits go by the tube ordered for the job; null for limits of the plan's own.</summary>
    public OrderedLimit? Ordered { get; private set; }

    public LineState State { get; private set; }

    /// <summary>The version of the plan, to which the job went over, that has the line no more; null while its plan has it.</summary>
    public int? NotInPlanSince { get; private set; }

    /// <summary>In the order in which the server took them.</summary>
    public IReadOnlyList<Reading> Readings => readings;

    /// <summary>The reading the server took last, or null.</summary>
    public Reading? Latest => readings.MaxBy(r => r.Number);

    public bool IsMeasured => Unit is not null;

    /// <summary>Nothing can pass before the size ordered for the job is known.</summary>
    public bool NeedsSize => Ordered is not null && (Lower ?? Upper) is null;

    /// <summary>The limits in words: "44 to 45 mm", "at most 45 °", "passed or failed".</summary>
    public string LimitsInWords => NeedsSize ? "the size ordered is not known yet" : Limits(Unit, Lower, Upper);

    /// <summary>Any limits in words, as <see cref="LimitsInWords"/>.</summary>
    public static string Limits(string? unit, decimal? lower, decimal? upper) =>
        (lower, upper) switch
        {
            _ when unit is null => "passed or failed",
            ({ } low, { } high) => $"{Text(low)} to {Text(high)} {unit}",
            ({ } low, null) => $"at least {Text(low)} {unit}",
            (null, { } high) => $"at most {Text(high)} {unit}",
            _ => $"in {unit}",
        };

    internal static InspectionLine Create(JobId job, int position, LineToCheck line, DateTimeOffset at)
    {
        var created = new InspectionLine
        {
            Id = Ids.New<InspectionLineId>(at),
            JobId = job,
            Code = line.Code,
            Position = position,
        };
        created.Describe(line);
        return created;
    }

    /// <summary>Takes another version's description; only before the first reading, so that what was read stays as it was read.</summary>
    internal void Describe(LineToCheck line)
    {
        if (readings.Count > 0)
        {
            throw new InvalidOperationException($"{Code} was read; it is never described anew.");
        }

        OperationCode = line.OperationCode;
        What = line.What;
        How = line.How;
        Unit = line.Unit;
        Nominal = line.Nominal;
        Lower = line.Lower;
        Upper = line.Upper;
        PhotoRequired = line.PhotoRequired;
        Point = line.Point;
        RecordedBy = line.RecordedBy;
        Source = line.Source;
        Caution = line.Caution;
        Pair = line.Pair;
        Ordered = line.Ordered;
        CustomerMayAttend = line.CustomerMayAttend;
        NotInPlanSince = null;
    }

    /// <summary>Takes its limits from the tube that was ordered. What failed before has no limits to be held against and stays failed.</summary>
    internal void Size(OrderedTube tube)
    {
        var settled = Ordered!.Settle(Asked, tube);
        (Nominal, Lower, Upper, Source) = (settled.Nominal, settled.Lower, settled.Upper, settled.Source);
    }

    internal void Place(int position) => Position = position;

    /// <summary>The job's plan has it from now on (null), or has it no more since that version.</summary>
    internal void StandInPlan(int? goneSince) =>
        NotInPlanSince = goneSince is null ? null : NotInPlanSince ?? goneSince;

    /// <summary>As the line asks it now.</summary>
    internal LineToCheck Asked =>
        new(
            Code,
            OperationCode,
            What,
            How,
            Unit,
            Nominal,
            Lower,
            Upper,
            PhotoRequired,
            Point,
            RecordedBy,
            Source,
            Caution
        )
        {
            Pair = Pair,
            Ordered = Ordered,
            CustomerMayAttend = CustomerMayAttend,
        };

    /// <summary>As values are kept.</summary>
    public static decimal Rounded(decimal value) => decimal.Round(value, Decimals, MidpointRounding.AwayFromZero);

    internal Outcome<Reading> Record(
        ReadingInput input,
        ReadingBy by,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt,
        Failure? notYet
    )
    {
        var errors = new FieldErrors();
        var clean = input with
        {
            Note = TextRules.Optional(input.Note, "note", "The note", TextRules.Note, errors),
            PhotoIds = [.. (input.PhotoIds ?? []).Distinct()],
        };
        var measured = Measure(clean, errors);
        var passed = Judge(clean, measured, errors);
        errors
            .AddIf(clean.PhotoIds!.Count > MostPhotos, "photoIds", $"At most {MostPhotos} photos go with a reading.")
            .AddIf(
                passed && PhotoRequired && clean.PhotoIds!.Count == 0,
                "photoIds",
                $"A photo is needed to pass this line ({What}): take one of what was checked and add it."
            )
            .AddIf(
                passed && Unnamed(clean) is not null,
                "instrumentId",
                $"Say what it was measured with ({What}): choose the {Unnamed(clean)?.Title().ToLowerInvariant()} from the register, or name another instrument in the note."
            )
            .AddIf(
                clean.Corrects is { } c && readings.All(r => r.Number != c),
                "corrects",
                $"There is no reading {clean.Corrects} on this line to correct."
            )
            .AddIf(
                clean.Corrects is { } d && readings.Exists(r => r.Corrects == d),
                "corrects",
                $"Reading {clean.Corrects} was corrected already. Correct its correction, or take a new reading."
            );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (readings.Count >= MostReadings)
        {
            return Failure.Because(
                "tooManyReadings",
                $"This line ({What}) has {MostReadings} readings already; ask the owner to look at it before more are taken."
            );
        }

        if (passed && MayNotPass(by) is { } no)
        {
            return no;
        }

        if (passed && NeedsSize)
        {
            return Failure.Because(
                "orderedSizeUnknown",
                $"The size of the tube ordered for this job is not known, so nothing can pass ({What}). Have the office enter it from the delivery note on the job's page.",
                OperationCode
            );
        }

        if (passed && input.Instrument?.Refusal is { } unfit)
        {
            return Failure.Because("instrument", unfit, OperationCode);
        }

        if (passed && MayNotCorrect(clean, by) is { } notTheirs)
        {
            return notTheirs;
        }

        if (passed && notYet is not null)
        {
            return notYet;
        }

        var uncertainty = measured is null ? null : UncertaintyOf(clean.Instrument);
        var isClose = passed && measured is not null && IsClose(measured.Value, uncertainty);
        var reading = Reading.Create(
            Id,
            readings.Count + 1,
            clean,
            measured,
            passed,
            uncertainty,
            isClose,
            by,
            occurredAt,
            recordedAt
        );
        readings.Add(reading);
        State = Decide();
        return reading;
    }

    /// <summary>The kind of instrument the plan asks for, where the register holds one and the reading says neither which nor, in the note, what else it was measured with.</summary>
    private InstrumentKind? Unnamed(ReadingInput input) =>
        IsMeasured
        && input is { Instrument: null, Note: null, Register: { } register }
        && InstrumentWords.NamedIn(How) is { } kind
        && register.Contains(kind)
            ? kind
            : null;

    /// <summary>What is not there yet cannot pass.</summary>
    internal Failure TooEarly() =>
        Failure.Because(
            "tooEarly",
            $"Too early to pass this line ({What}): the work before operation {OperationCode} is not done.",
            OperationCode
        );

    /// <summary>The owner takes it as it is.</summary>
    internal void Accept() => State = LineState.Accepted;

    internal bool IsOut(decimal value) => value < Lower || value > Upper;

    private static Failure.Forbidden? NoPerson(ReadingBy by) =>
        by.Person is null
            ? new Failure.Forbidden(
                "A key without a person may report a failure, but only a person can pass a line: use a key that acts as a person."
            )
            : null;

    private Failure.Forbidden? MayNotPass(ReadingBy by) =>
        NoPerson(by)
        ?? (
            RecordedBy == RecordedBy.Inspector && !by.IsInspector
                ? new Failure.Forbidden($"Only an inspector passes this line ({What}); ask one to look at it.")
                : null
        );

    /// <summary>A failed reading is taken back as mistyped by whoever took it, or by an inspector.</summary>
    private Failure.Forbidden? MayNotCorrect(ReadingInput input, ReadingBy by) =>
        input.Corrects is { } number
        && !by.IsInspector
        && readings.Find(r => r.Number == number) is { Passed: false } failed
        && failed.RecordedBy != by.Person
            ? new Failure.Forbidden(
                $"Reading {number} failed and is another person's: only they or an inspector correct it. Mend it and take a new reading."
            )
            : null;

    /// <summary>The value as typed or sent; null where none was given or it cannot be read.</summary>
    private MeasuredValue? Measure(ReadingInput input, FieldErrors errors)
    {
        var (first, second) = (Typed(input.Entered), Typed(input.EnteredSecond));
        if (Unit is not { } unit || (first is null && second is null))
        {
            return input.Value is { } value ? new MeasuredValue(Rounded(value)) : null;
        }

        if (Pair is null)
        {
            errors.AddIf(second is not null, "enteredSecond", $"This line ({What}) takes one value.");
            return first is not null && MeasuredText.Read(first, unit, "entered", errors) is { } single
                ? new MeasuredValue(single, first)
                : null;
        }

        errors
            .AddIf(first is null, "entered", $"Enter both angles: {Pair[0]} is missing.")
            .AddIf(second is null, "enteredSecond", $"Enter both angles: {Pair[1]} is missing.");
        if (first is null || second is null)
        {
            return null;
        }

        var (a, b) = (
            MeasuredText.Read(first, unit, "entered", errors),
            MeasuredText.Read(second, unit, "enteredSecond", errors)
        );
        return a is { } one && b is { } other
            ? new MeasuredValue(Rounded(one - other), first, second, one, other)
            : null;
    }

    /// <summary>A value out of limit fails by itself; a failure is never refused for want of a value.</summary>
    private bool Judge(ReadingInput input, MeasuredValue? measured, FieldErrors errors)
    {
        if (!IsMeasured)
        {
            var hasValue =
                (input.Value is not null) || (Typed(input.Entered) ?? Typed(input.EnteredSecond)) is not null;
            errors
                .AddIf(hasValue, "value", $"This line ({What}) is answered with passed or failed, not with a value.")
                .AddIf(!hasValue && input.Passed is null, "result", $"Say passed or failed: {What}.");
            return input.Passed == true;
        }

        if (measured is not { Value: var value })
        {
            errors.AddIf(input.Passed != false && !errors.Any, "value", $"Enter the measured value in {Unit}.");
            return false;
        }

        errors.AddIf(
            Math.Abs(value) > LargestValue,
            "value",
            $"{Text(value)} {Unit} cannot be; a value lies within ±{Text(LargestValue)}."
        );
        return input.Passed != false && !IsOut(value);
    }

    /// <summary>A difference of two readings of one instrument is off by their root sum of squares (JCGM 100:2008, 5.1.2; from memory).</summary>
    private decimal? UncertaintyOf(InstrumentInUse? instrument) =>
        instrument?.UncertaintyIn(Unit) is { } single
            ? Rounded(Pair is null ? single : single * (decimal)Math.Sqrt(2))
            : null;

    private bool IsClose(decimal value, decimal? uncertainty) =>
        uncertainty is { } u and > 0 && (value - Lower < u || Upper - value < u);

    /// <summary>The latest reading decides. Tablets may send late: the line is passed only when the last one by the device's clock and the last one the server took both passed, so that no failure is ever hidden by the order of arrival. A reading too near a limit for its instrument needs another passing one before it.</summary>
    private LineState Decide()
    {
        var lastTaken = readings.MaxBy(r => r.Number)!;
        var lastRead = readings.OrderBy(r => r.OccurredAt).ThenBy(r => r.Number).Last();
        return !lastTaken.Passed || !lastRead.Passed ? LineState.Failed
            : lastTaken.IsClose && !HasSecond(lastTaken) ? LineState.ReadAgain
            : LineState.Passed;
    }

    /// <summary>The reading before it, other than one it corrects, passed too.</summary>
    private bool HasSecond(Reading close) =>
        readings.Where(r => r.Number < close.Number && r.Number != close.Corrects).MaxBy(r => r.Number)
            is { Passed: true };

    private static string? Typed(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    /// <summary>A value as it is said: no more decimals than it has.</summary>
    public static string Text(decimal value) => value.ToString("0.########", CultureInfo.InvariantCulture);
}
