using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Removed;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>Whether a car, a kit or a part may leave the shop.</summary>
internal static class Release
{
    /// <summary>What still stands in the way, most telling first; empty where it may go.</summary>
    public static async Task<IReadOnlyList<Reason>> ObstaclesAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        List<Reason> obstacles =
        [
            .. job
                .Operations.Where(o => !o.IsOver)
                .Select(o => new Reason("operation", $"{o.Code} {o.Title} is not done.", o.Code)),
        ];
        if (obstacles.Count == 0 && !SignedOffBefore(job) && !await IsSignedOffAsync(db, job.Id, ct))
        {
            obstacles.Add(
                new Reason(
                    "notSignedOff",
                    $"The {job.Scope.Kind.Thing()} is not signed off. An inspector signs it off on the inspection page."
                )
            );
        }

        var offered = await db.Set<ChangeOrder>()
            .Where(c => c.JobId == job.Id && c.State == ChangeState.Offered)
            .OrderBy(c => c.Number)
            .Select(c => c.Number)
            .ToListAsync(ct);
        obstacles.AddRange(
            offered.Select(number => new Reason(
                "changeOffered",
                $"Change order {number} waits for the customer's answer. Record the yes or no, or withdraw it."
            ))
        );
        obstacles.AddRange(await PartsAccount.ObstaclesAsync(db, job.Id, ct));
        obstacles.AddRange(await HotWorkLoading.ObstaclesAsync(db, job.Id, ct));
        return obstacles;
    }

    private static Task<bool> IsSignedOffAsync(ShopDbContext db, JobId id, CancellationToken ct) =>
        db.Set<SignOff>().AnyAsync(s => s.JobId == id && s.WithdrawnAt == null, ct);

    /// <summary>A car that came to the program finished was signed off on paper.</summary>
    private static bool SignedOffBefore(Job job) =>
        job.Operations.LastOrDefault(o => o.Phase == Phase.SignOff)?.DoneBeforeOn is not null;
}
