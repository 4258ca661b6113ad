using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.Inspection;

/// <summary>One reading. <see cref="PersonName"/> is looked up for showing, not stored with it.</summary>
/// <param name="Line">The line's code.</param>
/// <param name="Result"><c>passed</c> or <c>failed</c>.</param>
public sealed record ReadingView(
    ReadingId Id,
    string Line,
    int Number,
    decimal? Value,
    string Result,
    string? Note,
    IReadOnlyList<PhotoId> PhotoIds,
    int? Corrects,
    PersonId? PersonId,
    string? PersonName,
    DateTimeOffset OccurredAt,
    DateTimeOffset RecordedAt,
    string? Entered = null,
    string? EnteredSecond = null,
    decimal? First = null,
    decimal? Second = null,
    InstrumentId? InstrumentId = null,
    string? Instrument = null,
    decimal? Uncertainty = null,
    bool IsClose = false
);

/// <summary>One line with its limits and readings, oldest first.</summary>
public sealed record InspectionLineView(
    string Code,
    string Operation,
    string What,
    string How,
    string? Unit,
    decimal? Nominal,
    decimal? Lower,
    decimal? Upper,
    string Limits,
    bool PhotoRequired,
    InspectionPoint Point,
    RecordedBy RecordedBy,
    string Source,
    string? Caution,
    LineState State,
    IReadOnlyList<ReadingView> Readings,
    IReadOnlyList<string>? Pair = null,
    int? NotInPlanSince = null,
    string? NeedsSizeOf = null
)
{
    /// <summary>The reading the server took last.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public ReadingView? Latest => Readings.Count == 0 ? null : Readings[^1];
}

/// <summary>A sign-off, standing or withdrawn.</summary>
public sealed record SignOffView(
    SignOffId Id,
    PersonId SignedBy,
    string? SignedByName,
    DateTimeOffset SignedAt,
    bool IsSelfInspection,
    string? Note,
    DateTimeOffset? WithdrawnAt,
    PersonId? WithdrawnBy,
    string? WithdrawnByName,
    string? WithdrawnReason
);

/// <summary>All that is checked on a job.</summary>
/// <param name="SignOff">The sign-off that stands, or null.</param>
/// <param name="Withdrawn">Earlier ones that were taken back.</param>
public sealed record InspectionView(
    JobId JobId,
    long Version,
    string PlanCode,
    int PlanVersion,
    IReadOnlyList<RuleSetUsed> RuleSets,
    IReadOnlyList<InspectionLineView> Lines,
    SignOffView? SignOff,
    IReadOnlyList<SignOffView> Withdrawn,
    string Advice,
    IReadOnlyList<NonconformanceView> Nonconformances
)
{
    public static InspectionView Of(JobInspection inspection, IReadOnlyDictionary<Guid, string> names)
    {
        ArgumentNullException.ThrowIfNull(inspection);
        return new(
            inspection.JobId,
            inspection.Version,
            inspection.PlanCode,
            inspection.PlanVersion,
            inspection.RuleSets,
            [.. inspection.Lines.OrderBy(l => l.Position).Select(l => Of(l, names))],
            inspection.Current is { } current ? Of(current, names) : null,
            [.. inspection.SignOffs.Where(s => !s.Stands).OrderBy(s => s.RecordedAt).Select(s => Of(s, names))],
            RuleSet.Advice,
            [.. inspection.Nonconformances.OrderBy(n => n.Number).Select(n => NonconformanceViews.Of(n, names))]
        );
    }

    public static InspectionLineView Of(InspectionLine line, IReadOnlyDictionary<Guid, string> names)
    {
        ArgumentNullException.ThrowIfNull(line);
        return new(
            line.Code,
            line.OperationCode,
            line.What,
            line.How,
            line.Unit,
            line.Nominal,
            line.Lower,
            line.Upper,
            line.LimitsInWords,
            line.PhotoRequired,
            line.Point,
            line.RecordedBy,
            line.Source,
            line.Caution,
            line.State,
            [.. line.Readings.OrderBy(r => r.Number).Select(r => Of(line.Code, r, names))],
            line.Pair,
            line.NotInPlanSince,
            line.NeedsSize ? line.Ordered!.Part : null
        );
    }

    public static ReadingView Of(string line, Reading reading, IReadOnlyDictionary<Guid, string> names)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return new(
            reading.Id,
            line,
            reading.Number,
            reading.Value,
            reading.Passed ? "passed" : "failed",
            reading.Note,
            reading.PhotoIds,
            reading.Corrects,
            reading.RecordedBy,
            Name(reading.RecordedBy, names),
            reading.OccurredAt,
            reading.RecordedAt,
            reading.Entered,
            reading.EnteredSecond,
            reading.First,
            reading.Second,
            reading.Instrument,
            reading.InstrumentName,
            reading.Uncertainty,
            reading.IsClose
        );
    }

    public static SignOffView Of(SignOff signOff, IReadOnlyDictionary<Guid, string> names)
    {
        ArgumentNullException.ThrowIfNull(signOff);
        return new(
            signOff.Id,
            signOff.SignedBy,
            Name(signOff.SignedBy, names),
            signOff.SignedAt,
            signOff.IsSelfInspection,
            signOff.Note,
            signOff.WithdrawnAt,
            signOff.WithdrawnBy,
            Name(signOff.WithdrawnBy, names),
            signOff.WithdrawnReason
        );
    }

    /// <summary>Names of everybody who recorded or signed something, by id.</summary>
    public static async Task<IReadOnlyDictionary<Guid, string>> NamesAsync(
        ShopDbContext db,
        IEnumerable<JobInspection> inspections,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(db);
        var people = inspections
            .SelectMany(i =>
                i.Lines.SelectMany(l => l.Readings.Select(r => r.RecordedBy))
                    .Concat(i.Nonconformances.SelectMany(n => new[] { n.OpenedBy, n.DecidedBy, n.ClosedBy }))
                    .Concat(i.SignOffs.SelectMany(s => new[] { s.SignedBy, s.WithdrawnBy }))
            )
            .OfType<PersonId>()
            .Select(p => p.Value)
            .Distinct()
            .ToList();
        return await db.Users.Where(u => people.Contains(u.Id)).ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
    }

    internal static string? Name(PersonId? person, IReadOnlyDictionary<Guid, string> names) =>
        person is { } id ? names.GetValueOrDefault(id.Value) : null;
}
