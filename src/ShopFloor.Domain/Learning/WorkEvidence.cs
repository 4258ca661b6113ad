using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Learning;

/// <summary>What one labour standard contributed to an operation's estimate, by the price book that is to be corrected.</summary>
/// <param name="EstimatedMinutes">Expected minutes after condition factors.</param>
/// <param name="Answers">Answers whose factors were applied to them.</param>
public sealed record EvidencePart(string StandardCode, double EstimatedMinutes, IReadOnlyList<GivenAnswer> Answers);

/// <summary>A finished operation: its estimate by labour standard, and the minutes that were logged.</summary>
public sealed record WorkEvidence(JobId Job, string Operation, double LoggedMinutes, IReadOnlyList<EvidencePart> Parts)
{
    public double EstimatedMinutes => Parts.Sum(p => p.EstimatedMinutes);

    /// <summary>An operation that was not timed, or that nobody had estimated, says nothing.</summary>
    public bool IsTimed => LoggedMinutes > 0 && EstimatedMinutes > 0;

    /// <summary>A job's operations that are done here, were timed and are no rework.</summary>
    /// <param name="parts">The job's estimate, taken apart by the price book that is to be corrected; see <see cref="WorkBreakdown"/>.</param>
    /// <param name="changed">Codes of operations whose hours an approved change altered: their logged time holds work that the estimate does not tell of, and they are left out.</param>
    public static IReadOnlyList<WorkEvidence> Of(
        Job job,
        IReadOnlyList<WorkPart> parts,
        DateTimeOffset now,
        IReadOnlySet<string>? changed = null
    )
    {
        ArgumentNullException.ThrowIfNull(job);
        return
        [
            .. job
                .Operations.Where(o => o is { Progress: OperationProgress.Done, Mends: null, DoneBeforeOn: null })
                .Where(o => changed?.Contains(o.Code) != true)
                .Select(o => Of(job.Id, o.Code, o.Minutes(now), parts))
                .Where(e => e.IsTimed),
        ];
    }

    /// <param name="parts">Of the whole job, see <see cref="WorkBreakdown"/>; those of other operations are passed over.</param>
    public static WorkEvidence Of(JobId job, string operation, double loggedMinutes, IEnumerable<WorkPart> parts) =>
        new(
            job,
            operation,
            loggedMinutes,
            [
                .. parts
                    .Where(p => p.OperationCode == operation)
                    .Select(p => new EvidencePart(p.StandardCode, (double)p.MeanMinutes, p.Answers)),
            ]
        );
}
