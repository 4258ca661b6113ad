using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Application.Materials;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>A second person's release of the finished car.</summary>
public sealed class SignOffJob(CommandRunner runner, FreezePack packs) : IUseCase
{
    /// <param name="Note">Anything the signer adds.</param>
    /// <param name="Strokes">The signature as drawn, each stroke as x, y, x, y … in thousandths of the pad; null leaves a line for the pen on the printed pack.</param>
    public sealed record Request(string? Note = null, IReadOnlyList<IReadOnlyList<int>>? Strokes = null);

    public Task<Outcome<SignOffView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<SignOffView>(
            Permission.SignOff,
            envelope,
            new { id, request },
            async scope =>
            {
                var job = await SignOffFacts.JobAsync(scope.Db, id, scope.Cancellation);
                var inspection = await scope.Db.InspectionAsync(id, scope.Cancellation);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                if (InspectionLoading.Over(job) is { } over)
                {
                    return over;
                }

                if (scope.Stale(inspection) is { } stale)
                {
                    return stale;
                }

                var shop = await scope.ShopAsync();
                var ask = await SignOffFacts.RequestAsync(scope.Db, job, shop, scope.Actor.Person, request.Note, ct);
                var outcome = inspection.SignOff(ask, scope.OccurredAt, scope.Now);
                if (!outcome.TryGet(out var signOff, out var failure))
                {
                    return failure;
                }

                if (await FinishReleaseAsync(scope, job, shop) is { } unfinished)
                {
                    return unfinished;
                }

                var frozen = await packs.AddAsync(scope, job, inspection, signOff, request.Strokes);
                if (!frozen.TryGet(out var pack, out var unsigned))
                {
                    return unsigned;
                }

                // The job's own version is raised too: whoever starts work on it at this moment must look again.
                scope.Db.Touch(job);
                scope.Db.Touch(inspection);
                if (await scope.Db.TraceAsync(id, ct) is { } trace)
                {
                    scope.Db.Touch(trace);
                }

                scope.Record(
                    new EventDraft(
                        "job.signedOff",
                        "inspection",
                        id.Value,
                        id,
                        After: new
                        {
                            signOff = signOff.Id,
                            selfInspection = signOff.IsSelfInspection,
                            record = pack.RecordHash,
                        }
                    )
                );
                await scope.SaveAsync();
                var names = await InspectionView.NamesAsync(scope.Db, [inspection], scope.Cancellation);
                return InspectionView.Of(signOff, names);
            },
            ct
        );

    /// <summary>The sign-off is the route's last operation, so it is finished with it.</summary>
    private static async Task<Failure?> FinishReleaseAsync(CommandScope scope, Job job, Shop shop)
    {
        if (job.Release is not { IsOver: false } release)
        {
            return null;
        }

        var stored = await JobFacts.OfAsync(scope.Db, job, shop, scope.Now, scope.Cancellation);
        var facts = stored with { IsSignedOff = true };
        var tap = new Job.Tap(Worker.Of(scope.Actor), scope.OccurredAt, scope.NewId<TimeEntryId>());
        var before = OperationChange.Snapshot.Of(release);
        if (job.Finish(release.Code, tap, facts).Failure is { } failure)
        {
            return failure;
        }

        scope.Record(
            new EventDraft(
                "operation.finished",
                "operation",
                release.Id.Value,
                job.Id,
                before,
                new { state = OperationChange.Snapshot.Of(release) }
            )
        );
        return null;
    }
}

/// <summary>Takes a sign-off back; it stays on record with the reason.</summary>
public sealed class WithdrawSignOff(CommandRunner runner) : IUseCase
{
    public sealed record Request(string? Reason);

    public Task<Outcome<SignOffView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<SignOffView>(
            Permission.SignOff,
            envelope,
            new { id, request },
            async scope =>
            {
                var job = await SignOffFacts.JobAsync(scope.Db, id, scope.Cancellation);
                var inspection = await scope.Db.InspectionAsync(id, scope.Cancellation);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                if (InspectionLoading.Over(job) is { } over)
                {
                    return over;
                }

                if (scope.Stale(inspection) is { } stale)
                {
                    return stale;
                }

                if (
                    !inspection
                        .WithdrawSignOff(scope.Actor.Person, request.Reason, scope.Now)
                        .TryGet(out var signOff, out var failure)
                )
                {
                    return failure;
                }

                // The job's own version is raised too: whoever hands the car over at this moment must look again.
                scope.Db.Touch(job);
                scope.Db.Touch(inspection);
                scope.Record(
                    new EventDraft(
                        "job.signOffWithdrawn",
                        "inspection",
                        id.Value,
                        id,
                        Before: new { signOff = signOff.Id }
                    )
                );
                await scope.SaveAsync();
                var names = await InspectionView.NamesAsync(scope.Db, [inspection], scope.Cancellation);
                return InspectionView.Of(signOff, names);
            },
            ct
        );
}
