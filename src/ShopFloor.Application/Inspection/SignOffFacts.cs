using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Materials;
using ShopFloor.Application.Removed;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>What the inspection asks of the job around it.</summary>
internal static class SignOffFacts
{
    public static Task<Job?> JobAsync(ShopDbContext db, JobId id, CancellationToken ct) =>
        db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct);

    public static async Task<SignOffRequest> RequestAsync(
        ShopDbContext db,
        Job job,
        Shop shop,
        PersonId? by,
        string? note,
        CancellationToken ct
    ) =>
        new(
            by,
            WorkedOn(job),
            shop.SelfInspection,
            !(await JobAccounts.NotSettledAsync(db, [job.Id], ct)).Contains(job.Id),
            [
                .. OpenMatters(job),
                .. await PartsAccount.ObstaclesAsync(db, job.Id, ct),
                .. await HotWorkLoading.ObstaclesAsync(db, job.Id, ct),
                .. await db.TraceAsync(job.Id, ct) is { } trace ? trace.Refusals(TraceLoading.NotNeeded(job)) : [],
            ],
            note
        );

    /// <summary>Everybody with time on, or the finish of, an operation that builds. Inspecting is not work on the car.</summary>
    private static HashSet<PersonId> WorkedOn(Job job) =>
        job
            .Operations.Where(o => !o.IsInspection)
            .SelectMany(o => o.Times.Select(t => t.Person).Append(o.FinishedBy))
            .OfType<PersonId>()
            .ToHashSet();

    /// <summary>Operations still open; <see cref="Job.Release"/> is this very sign-off and does not count.</summary>
    public static List<Reason> OpenMatters(Job job)
    {
        var release = job.Release;
        return
        [
            .. job
                .Operations.Where(o => !o.IsOver && o != release)
                .Select(o => new Reason("operationOpen", $"{o.Code} {o.Title} is not done.", o.Code)),
        ];
    }

    /// <summary>Operations that wait for earlier ones: nothing of theirs can be there to pass.</summary>
    public static HashSet<string> NotYetWorkedOn(Job job) =>
        job
            .Operations.Where(o =>
                o.Progress == OperationProgress.NotBegun
                && o.Route.After.Any(code => job.Operation(code) is { IsOver: false })
            )
            .Select(o => o.Code)
            .ToHashSet(StringComparer.Ordinal);
}
