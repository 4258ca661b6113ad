using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <content>Faults and what is done about them.</content>
public sealed partial class JobInspection
{
    private readonly List<Nonconformance> nonconformances = [];

    /// <summary>By number, closed ones included.</summary>
    public IReadOnlyList<Nonconformance> Nonconformances => nonconformances;

    /// <summary>Says what a fault is, why it came about, and adds photos of it.</summary>
    public Outcome<Nonconformance> DescribeNonconformance(
        int number,
        string? description,
        FaultCause? cause,
        IReadOnlyList<PhotoId> photos,
        DateTimeOffset at
    )
    {
        if (nonconformances.Find(n => n.Number == number) is not { } found)
        {
            return Failure.Missing("nonconformance");
        }

        if (SignedOffAlready(found) is { } late)
        {
            return late;
        }

        return found
            .Describe(description, cause, photos)
            .Then<Nonconformance>(_ =>
            {
                ChangedAt = at;
                return found;
            });
    }

    /// <summary>Decides what is done about a fault. Accepting settles its line; the two others leave it failed until it passes again.</summary>
    /// <param name="number">Of an open one.</param>
    /// <param name="disposition">The decision; the latest one counts.</param>
    /// <param name="reason">Why; for rework what is done.</param>
    /// <param name="rework">Code of the operation that was put on the route for it; needed for rework.</param>
    /// <param name="by">Only a person decides.</param>
    /// <param name="at">Server time.</param>
    public Outcome<Nonconformance> DecideNonconformance(
        int number,
        Disposition disposition,
        string? reason,
        string? rework,
        PersonId? by,
        DateTimeOffset at
    )
    {
        if (!Decidable(number, by).TryGet(out var found, out var failure))
        {
            return failure;
        }

        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        errors.AddIf(
            disposition == Disposition.Rework && rework is null,
            "operation",
            "Rework is an operation of its own: say what is mended."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        found.Decide(disposition, why, rework, by, at);
        if (disposition == Disposition.Accept)
        {
            lines.Single(l => l.Code == found.LineCode).Accept();
        }

        ChangedAt = at;
        return found;
    }

    /// <summary>The open nonconformance that may be decided now; else why not.</summary>
    public Outcome<Nonconformance> Decidable(int number, PersonId? by)
    {
        if (nonconformances.Find(n => n.Number == number) is not { } found)
        {
            return Failure.Missing("nonconformance");
        }

        if (by is null)
        {
            return new Failure.Forbidden("Only a person decides on a nonconformance: use a key that acts as a person.");
        }

        return SignedOffAlready(found) is { } late ? late
            : !found.IsOpen
                ? Failure.Because(
                    "nonconformanceClosed",
                    $"Nonconformance {number} is closed already; nothing is left to decide.",
                    found.OperationCode
                )
            : found.Reworks.Count >= Nonconformance.MostReworks
                ? Failure.Because(
                    "tooManyReworks",
                    $"Nonconformance {number} was reworked {Nonconformance.MostReworks} times; reject the part.",
                    found.OperationCode
                )
            : found;
    }

    private Failure? SignedOffAlready(Nonconformance found) =>
        IsSignedOff
            ? Failure.Because(
                "signedOff",
                "The car is signed off. Withdraw the sign-off with its reason before a nonconformance is changed.",
                found.OperationCode
            )
            : null;

    private Nonconformance? OpenOn(string lineCode) => nonconformances.Find(n => n.IsOpen && n.LineCode == lineCode);

    /// <summary>A failed line has one open nonconformance, a settled one has none.</summary>
    private void Follow(InspectionLine line, Reading reading)
    {
        var open = OpenOn(line.Code);
        if (line.State == LineState.Failed && open is null)
        {
            var failed = reading.Passed ? line.Readings.Last(r => !r.Passed) : reading;
            nonconformances.Add(Nonconformance.Open(JobId, nonconformances.Count + 1, line, failed));
        }
        else if (line.State == LineState.Passed)
        {
            open?.Close(reading);
        }
    }

    /// <summary>Why a line cannot pass yet although the work has reached it: its rework is not done.</summary>
    private Failure? ReworkFirst(InspectionLine line, IReadOnlySet<string>? unfinished) =>
        OpenOn(line.Code) is { } open
        && open.Reworks.FirstOrDefault(code => unfinished?.Contains(code) == true) is { } code
            ? Failure.Because(
                "reworkOpen",
                $"This line ({line.What}) passes when its rework {code} is done. Finish the rework first.",
                code
            )
            : null;
}
