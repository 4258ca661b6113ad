using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>An access way of a job, open or not.</summary>
/// <param name="ClosedBy">The operation under way or done that closed it last; null where it is open or never was.</param>
public sealed record WayView(string Code, string Title, bool IsOpen, string? ClosedBy);

/// <summary>Stock or work sent out.</summary>
public sealed record AwaitedView(
    int Number,
    string Kind,
    string What,
    string? Code,
    string? From,
    DateOnly? DueOn,
    IReadOnlyList<string> Operations,
    string State,
    string By,
    DateTimeOffset Since,
    string? EndedBy,
    DateTimeOffset? EndedAt
);

/// <summary>A time at which the owner stopped the job.</summary>
public sealed record OwnerHoldView(
    int Number,
    string Reason,
    IReadOnlyList<string> Operations,
    string By,
    DateTimeOffset Since,
    string? LiftedBy,
    DateTimeOffset? Until
);

/// <summary>The owner's override of the build-sequence check.</summary>
public sealed record OverrideView(string Operation, string Title, string Reason, string By, DateTimeOffset At);

/// <summary>An operation that the check stops, and what it says.</summary>
public sealed record StoppedView(string Operation, string Title, string Text);

/// <summary>The route of one job: what the build-sequence check says of it, its ways, and what was decided on it.</summary>
/// <param name="CanFinish">Null where the search limit was reached.</param>
/// <param name="Order">An order of the rest that works.</param>
/// <param name="GateCodes">Codes of the route's gates that stock or work sent out may answer.</param>
/// <param name="Stopped">Operations that could be started or finished but for the build-sequence check.</param>
public sealed record JobRouteView(
    JobId Id,
    long Version,
    string Number,
    string Template,
    int Edition,
    bool? CanFinish,
    IReadOnlyList<string> Order,
    IReadOnlyList<string> Sentences,
    IReadOnlyList<string> PointsOfNoReturn,
    IReadOnlyList<StoppedView> Stopped,
    IReadOnlyList<WayView> Ways,
    IReadOnlyList<AwaitedView> Awaited,
    IReadOnlyList<OwnerHoldView> OwnerHolds,
    IReadOnlyList<OverrideView> Overrides,
    IReadOnlyList<string> GateCodes
);

/// <summary>Reads the route of one job.</summary>
public sealed class ReadJobRoute(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<JobRouteView>> RunAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobRouteView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var shop = await db.Shops.SingleAsync(ct);
                return ViewOf(job, await JobFacts.OfAsync(db, job, shop, clock.GetUtcNow(), ct));
            },
            ct
        );

    private static JobRouteView ViewOf(Job job, GateFacts facts)
    {
        var outlook = JobOutlook.Of(job);
        return new JobRouteView(
            job.Id,
            job.Version,
            job.Number,
            job.TemplateCode,
            job.TemplateEdition,
            outlook.CanFinish,
            outlook.Order,
            outlook.Sentences,
            outlook.PointsOfNoReturn,
            Stopped(job, facts),
            [.. job.Ways.Select(w => WayOf(job, w))],
            [
                .. job.Awaited.Select(a => new AwaitedView(
                    a.Number,
                    CodeOf(a.Kind),
                    a.What,
                    a.Code,
                    a.From,
                    a.DueOn,
                    a.Operations,
                    CodeOf(a.State),
                    facts.Name(a.By),
                    a.Since,
                    a.EndedBy is { } by ? facts.Name(by) : null,
                    a.EndedAt
                )),
            ],
            [
                .. job.OwnerHolds.Select(h => new OwnerHoldView(
                    h.Number,
                    h.Reason,
                    h.Operations,
                    facts.Name(h.By),
                    h.Since,
                    h.LiftedBy is { } by ? facts.Name(by) : null,
                    h.Until
                )),
            ],
            [
                .. job
                    .Operations.Where(o => o.Override is not null)
                    .Select(o => new OverrideView(
                        o.Code,
                        o.Title,
                        o.Override!.Reason,
                        facts.Name(o.Override.By),
                        o.Override.At
                    )),
            ],
            [
                .. job
                    .Operations.SelectMany(o => o.Route.Gates)
                    .Where(g => g.Kind is GateKind.Stock or GateKind.SentOut)
                    .Select(g => g.Part!)
                    .Distinct(),
            ]
        );
    }

    /// <summary>Looked at only where nothing else stops the operation: the others wait anyway.</summary>
    private static List<StoppedView> Stopped(Job job, GateFacts facts)
    {
        if (job.State != JobState.Open)
        {
            return [];
        }

        return
        [
            .. from operation in job.Operations
            where !operation.IsOver && (operation.IsUnderWay || job.Gates(operation, facts).All(g => g.IsMet))
            let reason = job.SequenceReason(operation)
            where reason is not null
            select new StoppedView(operation.Code, operation.Title, reason.Text),
        ];
    }

    internal static WayView WayOf(Job job, AccessWay way)
    {
        var isOpen = job.OpenWays.Contains(way.Code);
        var closer = isOpen
            ? null
            : job
                .Operations.Where(o => o.BegunAt is not null && o.Route.Closes.Contains(way.Code))
                .MaxBy(o => o.BegunAt);
        return new WayView(way.Code, way.Title, isOpen, closer?.Code);
    }

    private static string CodeOf<T>(T value)
        where T : struct, Enum
    {
        var name = value.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }
}
