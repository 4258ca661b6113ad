using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Materials;

/// <param name="Certificate">SHA-256 of the kept file; null where there is none.</param>
/// <param name="Reason">Why it was written down again; null on the first.</param>
public sealed record MaterialEntryView(
    string What,
    string? Size,
    string? Grade,
    string? Mark,
    MaterialOrigin Origin,
    string? From,
    string? Certificate,
    string? Reason,
    string? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
);

/// <summary>A piece of material with all its entries, oldest first; the last one counts.</summary>
public sealed record MaterialView(
    JobMaterialId Id,
    int Number,
    MaterialKind Kind,
    IReadOnlyList<MaterialEntryView> Entries,
    string? WithdrawnReason,
    string? WithdrawnBy,
    DateTimeOffset? WithdrawnAt
)
{
    [System.Text.Json.Serialization.JsonIgnore]
    public MaterialEntryView Latest => Entries[^1];

    [System.Text.Json.Serialization.JsonIgnore]
    public bool Counts => WithdrawnAt is null;
}

public sealed record WeldEntryView(
    PersonId WelderId,
    string? Welder,
    string? Qualification,
    DateOnly? ValidUntil,
    bool IsExpired,
    string? Procedure,
    int? Filler,
    int? Gas,
    DateOnly On,
    string? Note,
    string? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
);

/// <summary>A joint with everything written down of it, oldest first; the last entry counts.</summary>
public sealed record JointView(string Code, string What, string Operation, IReadOnlyList<WeldEntryView> Entries)
{
    [System.Text.Json.Serialization.JsonIgnore]
    public WeldEntryView? Latest => Entries.Count == 0 ? null : Entries[^1];
}

/// <param name="Text">What is missing, in words.</param>
public sealed record GapView(string Key, string Code, string Text, string? Operation);

public sealed record TraceAcceptanceView(IReadOnlyList<string> Gaps, string Reason, string? By, DateTimeOffset At);

public sealed record TraceOperation(string Code, string Title);

/// <summary>Material and welds of a job.</summary>
/// <param name="IsBegun">Something is written down, so that the sign-off waits for the rest.</param>
/// <param name="Gaps">What neither was written down nor accepted.</param>
/// <param name="Operations">In which something can be welded.</param>
/// <param name="Qualifications">To choose from when a weld is written down.</param>
public sealed record TraceView(
    JobId JobId,
    string JobNumber,
    string Car,
    long Version,
    bool IsOpen,
    bool IsBegun,
    IReadOnlyList<MaterialView> Materials,
    IReadOnlyList<JointView> Joints,
    IReadOnlyList<GapView> Gaps,
    IReadOnlyList<TraceAcceptanceView> Acceptances,
    IReadOnlyList<TraceOperation> Operations,
    IReadOnlyList<QualificationView> Qualifications,
    IReadOnlyList<WelderView> Welders
);

/// <summary>Somebody who can have welded.</summary>
public sealed record WelderView(PersonId Id, string Name);

/// <summary>Reads a job's material and welds.</summary>
public sealed class ReadTrace(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<TraceView>> RunAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<TraceView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct);
                var trace = await db.TraceAsync(id, ct);
                return job is null || trace is null
                    ? Failure.Missing("job")
                    : await TraceViews.OfAsync(db, job, trace, clock.GetUtcNow(), ct);
            },
            ct
        );
}

internal static class TraceViews
{
    public static async Task<TraceView> OfAsync(
        ShopDbContext db,
        Job job,
        JobTrace trace,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.SingleAsync(ct);
        var users = await db
            .Users.AsNoTracking()
            .OrderBy(u => u.DisplayName)
            .Select(u => new
            {
                u.Id,
                u.DisplayName,
                u.IsActive,
            })
            .ToListAsync(ct);
        var names = users.ToDictionary(u => u.Id, u => u.DisplayName);
        string? Name(PersonId? person) =>
            person is { } p ? names.GetValueOrDefault(p.Value, "Somebody who has left") : null;
        var register = await db.Set<WelderQualification>().AsNoTracking().Where(q => !q.IsRetired).ToListAsync(ct);
        var isSignedOff = await db.Set<SignOff>().AnyAsync(s => s.JobId == job.Id && s.WithdrawnAt == null, ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var today = shop.LocalDay(now);
        return new TraceView(
            job.Id,
            job.Number,
            JobSubject.Title(job, car),
            trace.Version,
            job.State == JobState.Open && !isSignedOff,
            trace.IsBegun,
            [.. trace.Materials.OrderBy(m => m.Number).Select(m => Of(m, Name))],
            [.. trace.Joints.OrderBy(j => j.Position).Select(j => Of(j, Name))],
            [
                .. trace
                    .OpenGaps(TraceLoading.NotNeeded(job))
                    .Select(g => new GapView(g.Key, g.Code, JobTrace.Words(g), g.Operation)),
            ],
            [
                .. trace.Acceptances.Select(a => new TraceAcceptanceView(
                    [.. a.Gaps.Select(JobTrace.Words)],
                    a.Reason,
                    Name(a.By),
                    a.At
                )),
            ],
            [.. job.Operations.Where(o => o.Route.HotWork).Select(o => new TraceOperation(o.Code, o.Title))],
            [
                .. register
                    .Select(q => QualificationView.Of(q, Name(q.Person), today))
                    .OrderBy(q => q.Name, StringComparer.Ordinal),
            ],
            [.. users.Where(u => u.IsActive).Select(u => new WelderView(PersonId.From(u.Id), u.DisplayName))]
        );
    }

    private static MaterialView Of(JobMaterial material, Func<PersonId?, string?> name) =>
        new(
            material.Id,
            material.Number,
            material.Kind,
            [
                .. material.Entries.Select(e => new MaterialEntryView(
                    e.What,
                    e.Size,
                    e.Grade,
                    e.Mark,
                    e.Origin,
                    e.From,
                    e.Certificate?.StoredSha256,
                    e.Reason,
                    name(e.By),
                    e.At,
                    e.RecordedAt
                )),
            ],
            material.WithdrawnReason,
            name(material.WithdrawnBy),
            material.WithdrawnAt
        );

    private static JointView Of(WeldedJoint joint, Func<PersonId?, string?> name) =>
        new(
            joint.Code,
            joint.What,
            joint.OperationCode,
            [
                .. joint.Entries.Select(e => new WeldEntryView(
                    e.Welder,
                    name(e.Welder),
                    e.Qualification,
                    e.ValidUntil,
                    e.IsExpired,
                    e.Procedure,
                    e.Filler,
                    e.Gas,
                    e.On,
                    e.Note,
                    name(e.By),
                    e.At,
                    e.RecordedAt
                )),
            ]
        );
}
