using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>A witness point of a job with what became of its notice.</summary>
/// <param name="Lines">What may be attended.</param>
/// <param name="Stand">About to start, in work, finished.</param>
/// <param name="MarkedByName">Who said it; null where nobody did yet.</param>
public sealed record WitnessPointView(
    JobId JobId,
    string JobNumber,
    string Car,
    string Operation,
    string Title,
    IReadOnlyList<string> Lines,
    string Stand,
    DateTimeOffset GivenAt,
    WitnessOutcome? Outcome,
    string? MarkedByName,
    DateTimeOffset? MarkedAt,
    string? Note,
    long Version
)
{
    internal const string Finished = "finished";

    /// <summary>Nobody can come to see it any more.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsOver => Stand == Finished;
}

/// <summary>Gives notice of witness points as the work reaches them.</summary>
public static class WitnessNotices
{
    /// <summary>After an operation has moved: notice of what has come within reach, in the same transaction.</summary>
    internal static async Task FollowAsync(CommandScope scope, Job job)
    {
        var witnessed = await CodesAsync(scope.Db, job.Id, scope.Cancellation);
        if (witnessed.Count == 0)
        {
            return;
        }

        var told = await scope
            .Db.Set<WitnessNotice>()
            .Where(n => n.JobId == job.Id)
            .Select(n => n.OperationCode)
            .ToListAsync(scope.Cancellation);
        foreach (var operation in WitnessNotice.Due(job, witnessed, told.ToHashSet(StringComparer.Ordinal)))
        {
            var notice = WitnessNotice.Give(scope.NewId<WitnessNoticeId>(), job.Id, operation.Code, scope.Now);
            scope.Db.Add(notice);
            scope.Record(
                new EventDraft(
                    "witness.noticeGiven",
                    "witness",
                    notice.Id.Value,
                    job.Id,
                    After: new { operation = operation.Code, begun = operation.BegunAt is not null }
                )
            );
        }
    }

    private static async Task<HashSet<string>> CodesAsync(ShopDbContext db, JobId job, CancellationToken ct) =>
        (
            await db.Set<InspectionLine>()
                .Where(l => l.JobId == job && l.Point == InspectionPoint.Witness)
                .Select(l => l.OperationCode)
                .Distinct()
                .ToListAsync(ct)
        ).ToHashSet(StringComparer.Ordinal);
}

/// <summary>Reads witness points of which notice was given: those that nobody has marked yet, or all of one job.</summary>
public sealed class ReadWitnessPoints(QueryRunner queries) : IUseCase
{
    /// <summary>Most that are shown at once, the newest.</summary>
    public const int Most = 200;

    /// <summary>Of open jobs, not marked yet: for the inspector and the owner.</summary>
    public Task<Outcome<IReadOnlyList<WitnessPointView>>> WaitingAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<WitnessPointView>>(
            Permission.SignOff,
            actor,
            async db =>
            {
                var open = db.Set<Job>().Where(j => j.State == JobState.Open).Select(j => j.Id);
                return Outcome<IReadOnlyList<WitnessPointView>>.Success(
                    await ViewsAsync(
                        db,
                        db.Set<WitnessNotice>().Where(n => n.Outcome == null && open.Contains(n.JobId)),
                        ct
                    )
                );
            },
            ct
        );

    public Task<Outcome<IReadOnlyList<WitnessPointView>>> OfJobAsync(JobId job, Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<WitnessPointView>>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.Set<Job>().AnyAsync(j => j.Id == job, ct)
                    ? Outcome<IReadOnlyList<WitnessPointView>>.Success(
                        await ViewsAsync(db, db.Set<WitnessNotice>().Where(n => n.JobId == job), ct)
                    )
                    : Failure.Missing("job"),
            ct
        );

    /// <summary>What a customer may attend on a job that is in the shop: notice was given and the work is not over.</summary>
    internal static async Task<IReadOnlyList<PointToAttend>> ForCustomerAsync(
        ShopDbContext db,
        Job job,
        CancellationToken ct
    )
    {
        var told = await db.Set<WitnessNotice>()
            .Where(n => n.JobId == job.Id && n.Outcome == null)
            .Select(n => n.OperationCode)
            .ToListAsync(ct);
        var lines = await db.Set<InspectionLine>()
            .Where(l =>
                l.JobId == job.Id
                && l.Point == InspectionPoint.Witness
                && l.CustomerMayAttend
                && told.Contains(l.OperationCode)
            )
            .OrderBy(l => l.Position)
            .Select(l => new { l.OperationCode, l.What })
            .ToListAsync(ct);
        return
        [
            .. lines
                .Where(l => job.Operation(l.OperationCode) is { IsOver: false })
                .Select(l => new PointToAttend(l.What, job.Operation(l.OperationCode)!.BegunAt is not null)),
        ];
    }

    internal static async Task<IReadOnlyList<WitnessPointView>> ViewsAsync(
        ShopDbContext db,
        IQueryable<WitnessNotice> wanted,
        CancellationToken ct
    )
    {
        var notices = await wanted.OrderByDescending(n => n.GivenAt).ThenBy(n => n.Id).Take(Most).ToListAsync(ct);
        var ids = notices.Select(n => n.JobId).Distinct().ToList();
        var jobs = await db.Set<Job>().Include(j => j.Operations).Where(j => ids.Contains(j.Id)).ToListAsync(ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var lines = await db.Set<InspectionLine>()
            .Where(l => ids.Contains(l.JobId) && l.Point == InspectionPoint.Witness)
            .OrderBy(l => l.Position)
            .Select(l => new
            {
                l.JobId,
                l.OperationCode,
                l.What,
            })
            .ToListAsync(ct);
        var people = notices.Select(n => n.MarkedBy?.Value).OfType<Guid>().Distinct().ToList();
        var names = await db
            .Users.Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        return
        [
            .. from notice in notices
            let job = jobs.Single(j => j.Id == notice.JobId)
            let operation = job.Operation(notice.OperationCode)
            select new WitnessPointView(
                job.Id,
                job.Number,
                JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                notice.OperationCode,
                operation?.Title ?? "",
                [.. lines.Where(l => l.JobId == job.Id && l.OperationCode == notice.OperationCode).Select(l => l.What)],
                operation switch
                {
                    { IsOver: true } => WitnessPointView.Finished,
                    { BegunAt: not null } => "in work",
                    _ => "about to start",
                },
                notice.GivenAt,
                notice.Outcome,
                InspectionView.Name(notice.MarkedBy, names),
                notice.MarkedAt,
                notice.Note,
                notice.Version
            ),
        ];
    }
}

/// <summary>Says who attended a witness point, or that nobody did.</summary>
public sealed class MarkWitnessPoint(CommandRunner runner) : IUseCase
{
    /// <param name="Outcome">witnessedByPerson (the one who says so), witnessedByCustomer or notAttended.</param>
    public sealed record Request(WitnessOutcome? Outcome, string? Note = null);

    public Task<Outcome<WitnessPointView>> RunAsync(
        JobId job,
        string operation,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<WitnessPointView>(
            Permission.SignOff,
            envelope,
            new
            {
                job,
                operation,
                request,
            },
            async scope =>
            {
                var notice = await scope
                    .Db.Set<WitnessNotice>()
                    .SingleOrDefaultAsync(n => n.JobId == job && n.OperationCode == operation, ct);
                if (notice is null)
                {
                    return Failure.Missing("witness point of which notice was given");
                }

                if (scope.Stale(notice) is { } stale)
                {
                    return stale;
                }

                if (request.Outcome is not { } outcome)
                {
                    return Failure.Field("outcome", "Say who was there, or that nobody was.");
                }

                var before = notice.Outcome;
                if (notice.Mark(outcome, scope.Actor.Person, request.Note, scope.Now).Failure is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "witness.marked",
                        "witness",
                        notice.Id.Value,
                        job,
                        new { outcome = before },
                        new { operation, outcome }
                    )
                );
                await scope.SaveAsync();
                return (
                    await ReadWitnessPoints.ViewsAsync(
                        scope.Db,
                        scope.Db.Set<WitnessNotice>().Where(n => n.Id == notice.Id),
                        ct
                    )
                )[0];
            },
            ct
        );
}
