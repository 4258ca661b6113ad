using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>Loads a job's inspection whole: it is always judged as one.</summary>
public static class InspectionLoading
{
    /// <summary>Null where the job has none.</summary>
    public static Task<JobInspection?> InspectionAsync(this ShopDbContext db, JobId job, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        return db.Inspections().SingleOrDefaultAsync(i => i.JobId == job, ct);
    }

    /// <summary>Inspections with lines in plan order, readings in the order taken, sign-offs oldest first.</summary>
    public static IQueryable<JobInspection> Inspections(this ShopDbContext db)
    {
        ArgumentNullException.ThrowIfNull(db);
        return db.Set<JobInspection>()
            .AsSplitQuery()
            .Include(i => i.Lines.OrderBy(l => l.Position))
                .ThenInclude(l => l.Readings.OrderBy(r => r.Number))
            .Include(i => i.Nonconformances.OrderBy(n => n.Number))
            .Include(i => i.SignOffs.OrderBy(s => s.RecordedAt));
    }

    /// <summary>The refusal where a job is over, null while it is open.</summary>
    internal static Failure? Over(Job job) =>
        job.State switch
        {
            JobState.Open => null,
            JobState.Closed => Failure.Because("jobClosed", $"{job.Number} was handed over; its inspection is closed."),
            _ => Failure.Because("jobCancelled", $"{job.Number} was cancelled; its inspection is closed."),
        };
}
