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
}

/// <summary>One line of a job's inspection: what to look at, within which limits, and every reading taken of it.</summary>
/// <remarks>Limits are inclusive. Values are rounded to four decimals of the line's unit before they are judged and stored, far below what any instrument in the shop resolves.</remarks>
public sealed class InspectionLine : IHoldLine
{
    public const int Decimals = 4;
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

    public RecordedBy RecordedBy { get; private set; }

    public string Source { get; private set; } = "";

    public string? Caution { get; private set; }

    public LineState State { get; private set; }

    /// <summary>In the order in which the server took them.</summary>
    public IReadOnlyList<Reading> Readings => readings;

    /// <summary>The reading the server took last, or null.</summary>
    public Reading? Latest => readings.MaxBy(r => r.Number);

    public bool IsMeasured => Unit is not null;

    /// <summary>The limits in words: "44 to 45 mm", "at most 45 °", "passed or failed".</summary>
    public string LimitsInWords =>
        (Lower, Upper) switch
        {
            _ when Unit is null => "passed or failed",
            ({ } low, { } high) => $"{Text(low)} to {Text(high)} {Unit}",
            ({ } low, null) => $"at least {Text(low)} {Unit}",
            (null, { } high) => $"at most {Text(high)} {Unit}",
            _ => $"in {Unit}",
        };

    internal static InspectionLine Create(JobId job, int position, LineToCheck line, DateTimeOffset at) =>
        new()
        {
            Id = Ids.New<InspectionLineId>(at),
            JobId = job,
            Code = line.Code,
            Position = position,
            OperationCode = line.OperationCode,
            What = line.What,
            How = line.How,
            Unit = line.Unit,
            Nominal = line.Nominal,
            Lower = line.Lower,
            Upper = line.Upper,
            PhotoRequired = line.PhotoRequired,
            Point = line.Point,
            RecordedBy = line.RecordedBy,
            Source = line.Source,
            Caution = line.Caution,
        };

    internal Outcome<Reading> Record(
        ReadingInput input,
        ReadingBy by,
        DateTimeOffset occurredAt,
        DateTimeOffset recordedAt,
        bool isTooEarly
    )
    {
        var errors = new FieldErrors();
        var clean = input with
        {
            Value = input.Value is { } v ? decimal.Round(v, Decimals, MidpointRounding.AwayFromZero) : null,
            Note = TextRules.Optional(input.Note, "note", "The note", TextRules.Note, errors),
            PhotoIds = [.. (input.PhotoIds ?? []).Distinct()],
        };
        var passed = Judge(clean, errors);
        errors
            .AddIf(clean.PhotoIds!.Count > MostPhotos, "photoIds", $"At most {MostPhotos} photos go with a reading.")
            .AddIf(
                passed && PhotoRequired && clean.PhotoIds!.Count == 0,
                "photoIds",
                $"A photo is needed to pass this line ({What}): take one of what was checked and add it."
            )
            .AddIf(
                clean.Corrects is { } c && readings.All(r => r.Number != c),
                "corrects",
                $"There is no reading {clean.Corrects} on this line to correct."
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

        if (passed && isTooEarly)
        {
            return Failure.Because(
                "tooEarly",
                $"Too early to pass this line ({What}): the work before operation {OperationCode} is not done.",
                OperationCode
            );
        }

        var reading = Reading.Create(Id, readings.Count + 1, clean, passed, by, occurredAt, recordedAt);
        readings.Add(reading);
        State = Decide();
        return reading;
    }

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

    /// <summary>A value out of limit fails by itself; a failure is never refused for want of a value.</summary>
    private bool Judge(ReadingInput input, FieldErrors errors)
    {
        if (!IsMeasured)
        {
            errors
                .AddIf(
                    input.Value is not null,
                    "value",
                    $"This line ({What}) is answered with passed or failed, not with a value."
                )
                .AddIf(input.Value is null && input.Passed is null, "result", $"Say passed or failed: {What}.");
            return input.Passed == true;
        }

        if (input.Value is not { } value)
        {
            errors.AddIf(input.Passed != false, "value", $"Enter the measured value in {Unit}.");
            return false;
        }

        errors.AddIf(
            Math.Abs(value) > LargestValue,
            "value",
            $"{Text(value)} {Unit} cannot be; a value lies within ±{Text(LargestValue)}."
        );
        return input.Passed != false && !(value < Lower) && !(value > Upper);
    }

    /// <summary>The latest reading decides. Tablets may send late: the line is passed only when the last one by the device's clock and the last one the server took both passed, so that no failure is ever hidden by the order of arrival.</summary>
    private LineState Decide()
    {
        var lastTaken = readings.MaxBy(r => r.Number)!;
        var lastRead = readings.OrderBy(r => r.OccurredAt).ThenBy(r => r.Number).Last();
        return lastTaken.Passed && lastRead.Passed ? LineState.Passed : LineState.Failed;
    }

    private static string Text(decimal value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
