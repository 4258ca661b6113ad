using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake;

/// <summary>Whether a job exists and is still being worked on.</summary>
internal static class OpenJobs
{
    public static Task<bool> ExistsAsync(ShopDbContext db, JobId id, CancellationToken ct) =>
        db.Set<Job>().AnyAsync(j => j.Id == id, ct);

    /// <summary>The refusal where there is no such job or it is over; null where work may go on.</summary>
    public static async Task<Failure?> RefuseAsync(CommandScope scope, JobId id)
    {
        var state = await scope
            .Db.Set<Job>()
            .Where(j => j.Id == id)
            .Select(j => (JobState?)j.State)
            .SingleOrDefaultAsync(scope.Cancellation);
        return state switch
        {
            null => Failure.Missing("job"),
            JobState.Open => null,
            JobState.Cancelled => Failure.Because(
                "cancelled",
                "This job was cancelled; nothing is added to it any more."
            ),
            _ => Failure.Because(
                "closed",
                "This job is closed: what it was for has left the shop. For new work quote a return visit from the job's page."
            ),
        };
    }

    /// <summary>As <see cref="RefuseAsync"/>, but the car of a cancelled job is photographed before it goes back.</summary>
    public static async Task<Failure?> RefusePhotoAsync(CommandScope scope, JobId id, PhotoKind kind)
    {
        if (await RefuseAsync(scope, id) is not { } refused)
        {
            return null;
        }

        var isStillHere =
            kind == PhotoKind.HandOver
            && await scope.Db.Set<Job>().AnyAsync(j => j.Id == id && j.State == JobState.Cancelled, scope.Cancellation)
            && !await scope.Db.Set<CarReturn>().AnyAsync(r => r.JobId == id, scope.Cancellation);
        return isStillHere ? null : refused;
    }
}
