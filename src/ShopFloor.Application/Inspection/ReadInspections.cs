using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Application.Materials;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Removed;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>One operation with lines to look at.</summary>
/// <param name="IsReached">The work before it is done: its lines can pass now.</param>
public sealed record OperationLinesView(
    string Code,
    string Title,
    bool IsReached,
    bool IsHold,
    IReadOnlyList<InspectionLineView> Lines
)
{
    /// <summary>Not looked at yet, or to be read once more.</summary>
    public int OpenCount => Lines.Count(l => l.State is LineState.Open or LineState.ReadAgain);

    public int FailedCount => Lines.Count(l => l.State == LineState.Failed);

    /// <summary>Passed, or accepted as they are.</summary>
    public int PassedCount => Lines.Count(l => l.State.IsSettled());
}

/// <summary>A job's inspection on one page: lines by operation, and what forbids the sign-off for the person who looks.</summary>
/// <param name="RuleSets">What it is measured against, in the versions it keeps.</param>
public sealed record JobInspectionView(
    JobId JobId,
    string JobNumber,
    string Car,
    string? Registration,
    bool IsOpen,
    InspectionView Inspection,
    IReadOnlyList<OperationLinesView> Operations,
    IReadOnlyList<Reason> SignOffRefusals,
    IReadOnlyList<InstrumentView> Instruments,
    IReadOnlyList<MendableOperation> Mendable,
    IReadOnlyList<JobRuleSetView> RuleSets
)
{
    /// <summary>A newer version of the plan than the job's; null where there is none or the job is over.</summary>
    public NewerPlanView? NewerPlan { get; init; }
}

/// <summary>An operation that has begun, so that rework can mend it.</summary>
public sealed record MendableOperation(string Code, string Title);

/// <summary>One job in the list of what waits for an inspector.</summary>
/// <param name="Now">Operations whose lines can be looked at now.</param>
/// <param name="ReadyToSignOff">Nothing but the sign-off is left.</param>
/// <param name="WaitsForPayment">All is looked at, and the sign-off waits for the payment, or for the owner's word.</param>
/// <param name="PapersMissing">All is looked at, and so many things about material and welds are neither written down nor accepted.</param>
public sealed record InspectionWorkView(
    JobId JobId,
    string JobNumber,
    string Car,
    string? Registration,
    DateOnly? PromisedOn,
    int Passed,
    int Total,
    IReadOnlyList<OperationLinesView> Now,
    bool ReadyToSignOff,
    bool SignedOff,
    bool WaitsForPayment,
    int PapersMissing
);

/// <summary>Reads inspections: one job's, or what waits over all jobs.</summary>
public sealed class ReadInspections(
    QueryRunner queries,
    ReadRuleSets ruleSets,
    InspectionPlanStore plans,
    TimeProvider clock
) : IUseCase
{
    public Task<Outcome<JobInspectionView>> OneAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobInspectionView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await SignOffFacts.JobAsync(db, id, ct);
                var inspection = await db.InspectionAsync(id, ct);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                var car = await JobSubject.CarAsync(db, job, ct);
                var shop = await db.Shops.SingleAsync(ct);
                var names = await InspectionView.NamesAsync(db, [inspection], ct);
                var view = InspectionView.Of(inspection, names);
                return new JobInspectionView(
                    id,
                    job.Number,
                    JobSubject.Title(job, car),
                    car?.Registration,
                    job.State == JobState.Open,
                    view,
                    Group(job, view.Lines),
                    inspection.RefusalsToSignOff(
                        await SignOffFacts.RequestAsync(db, job, shop, actor.Person, null, ct)
                    ),
                    await Instruments.ToChooseAsync(db, shop, clock.GetUtcNow(), ct),
                    [
                        .. job
                            .Operations.Where(o => o.BegunAt is not null && o != job.Release)
                            .Select(o => new MendableOperation(o.Code, o.Title)),
                    ],
                    await ruleSets.OfJobAsync(db, inspection.RuleSets, ct)
                )
                {
                    NewerPlan = job.State == JobState.Open ? await plans.NewerAsync(db, inspection, ct) : null,
                };
            },
            ct
        );

    /// <summary>Open jobs with something to look at now, or ready to be signed off; soonest promised first.</summary>
    public Task<Outcome<IReadOnlyList<InspectionWorkView>>> WaitingAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<InspectionWorkView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var jobs = await db.Set<Job>()
                    .Include(j => j.Operations)
                    .Where(j => j.State == JobState.Open)
                    .ToListAsync(ct);
                var ids = jobs.Select(j => j.Id).ToList();
                var inspections = await db.Inspections()
                    .Where(i => ids.Contains(i.JobId))
                    .ToDictionaryAsync(i => i.JobId, ct);
                var cars = await JobSubject.CarsAsync(db, jobs, ct);
                var none = new Dictionary<Guid, string>();
                var partsOut = await db.Set<PartOut>()
                    .Where(p => ids.Contains(p.JobId) && p.State == PartOutState.Out)
                    .Select(p => p.JobId)
                    .Distinct()
                    .ToListAsync(ct);
                var traces = await db.Set<JobTrace>()
                    .AsSplitQuery()
                    .Include(t => t.Materials)
                    .Include(t => t.Joints)
                    .Where(t => ids.Contains(t.JobId))
                    .ToDictionaryAsync(t => t.JobId, ct);
                var owing = await JobAccounts.NotSettledAsync(db, ids, ct);
                return jobs.Where(j => inspections.ContainsKey(j.Id))
                    .Select(j =>
                        Work(
                            j,
                            inspections[j.Id],
                            cars.GetValueOrDefault(j.Id),
                            partsOut.Contains(j.Id),
                            owing.Contains(j.Id),
                            traces.GetValueOrDefault(j.Id)?.Refusals(TraceLoading.NotNeeded(j)).Count ?? 0,
                            none
                        )
                    )
                    .Where(w =>
                        w.Now.Count > 0 || w.ReadyToSignOff || w.WaitsForPayment || w.PapersMissing > 0 || w.SignedOff
                    )
                    .OrderBy(w => w.PromisedOn ?? DateOnly.MaxValue)
                    .ThenBy(w => w.JobNumber, StringComparer.Ordinal)
                    .ToList();
            },
            ct
        );

    private static InspectionWorkView Work(
        Job job,
        JobInspection inspection,
        Car? car,
        bool hasPartsOut,
        bool isOwing,
        int missing,
        IReadOnlyDictionary<Guid, string> names
    )
    {
        var lines = inspection.Lines.OrderBy(l => l.Position).Select(l => InspectionView.Of(l, names)).ToList();
        var groups = Group(job, lines);
        var isThrough =
            !inspection.IsSignedOff
            && lines.Count > 0
            && lines.TrueForAll(l => l.State.IsSettled())
            && !hasPartsOut
            && SignOffFacts.OpenMatters(job).Count == 0;
        return new InspectionWorkView(
            job.Id,
            job.Number,
            JobSubject.Title(job, car),
            car?.Registration,
            job.PromisedOn,
            lines.Count(l => l.State.IsSettled()),
            lines.Count,
            [.. groups.Where(g => g.IsReached && g.PassedCount < g.Lines.Count)],
            isThrough && !isOwing && missing == 0,
            inspection.IsSignedOff,
            isThrough && isOwing,
            isThrough ? missing : 0
        );
    }

    private static List<OperationLinesView> Group(Job job, IReadOnlyList<InspectionLineView> lines)
    {
        var ahead = SignOffFacts.NotYetWorkedOn(job);
        return
        [
            .. job
                .Operations.Select(o => (Operation: o, Lines: lines.Where(l => l.Operation == o.Code).ToList()))
                .Where(g => g.Lines.Count > 0)
                .Select(g => new OperationLinesView(
                    g.Operation.Code,
                    g.Operation.Title,
                    !ahead.Contains(g.Operation.Code),
                    g.Lines.Exists(l => l.Point == InspectionPoint.Hold),
                    g.Lines
                )),
        ];
    }
}
