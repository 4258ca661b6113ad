using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Times;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>What all taps on an operation have in common: load, refuse a stale one, act, record, show.</summary>
public sealed class OperationChange(CommandRunner runner) : IUseCase
{
    /// <summary>What the Domain is asked with.</summary>
    internal sealed record Asked(Job Job, Job.Tap Tap, GateFacts Facts, CommandScope Scope, Shop Shop);

    internal Task<Outcome<OperationChanged>> RunAsync(
        Permission permission,
        JobId id,
        string code,
        object content,
        Envelope envelope,
        string eventType,
        Func<Asked, Outcome<Operation>> act,
        Func<Operation, object?>? detail,
        CancellationToken ct,
        Func<CommandScope, Task<Failure?>>? first = null
    ) =>
        runner.RunAsync<OperationChanged>(
            permission,
            envelope,
            content,
            async scope =>
            {
                // In the same transaction: what comes first stays only if the tap is taken.
                if (first is not null && await first(scope) is { } early)
                {
                    return early;
                }

                if (!(await JobLoading.WholeAsync(scope, id)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                var known = job.Operation(code);
                if (known is { Route: { HotWork: true } or { PaintOrSolvent: true } })
                {
                    // Two taps at once must not bring sparks and vapour together: each waits for what the other has written.
                    await scope.LockSeriesAsync(HotWorkLoading.Series);
                }

                var shop = await scope.ShopAsync();
                var facts = await JobFacts.OfAsync(scope.Db, job, shop, scope.Now, scope.Cancellation);
                facts = facts with { NameOf = await NamesWithAsync(scope, facts) };
                var tap = new Job.Tap(Worker.Of(scope.Actor), scope.OccurredAt, scope.NewId<TimeEntryId>());
                if (permission == Permission.Inspect && !MayWorkOn(scope.Actor, known))
                {
                    return new Failure.Forbidden(
                        "Inspectors record the operations that are theirs. Ask a fabricator to record this one."
                    );
                }

                var before = known is null ? null : Snapshot.Of(known);
                if (!act(new Asked(job, tap, facts, scope, shop)).TryGet(out var operation, out failure))
                {
                    return failure;
                }

                var after = Snapshot.Of(operation);
                if (after != before)
                {
                    scope.Db.Touch(job);
                    scope.Record(
                        new EventDraft(
                            eventType,
                            "operation",
                            operation.Id.Value,
                            job.Id,
                            before,
                            new { state = after, detail = detail?.Invoke(operation) }
                        )
                    );
                    var isUnbegun = operation.BegunByFinish && operation.FinishRecordedAt == scope.Now;
                    await WitnessNotices.FollowAsync(scope, job);
                    HotWorkLoading.Follow(scope, facts.HotWork, job, isUnbegun ? operation : null);
                    if (operation.Running.Any(t => t.Worker == tap.Worker))
                    {
                        await ShopTimes.EndActivityAsync(scope);
                    }

                    await scope.SaveAsync();
                }

                return new OperationChanged(job.Id, job.Version, JobViews.Of(job, operation, facts));
            },
            ct
        );

    /// <summary>The floor's people work on everything, inspectors on what needs an inspector.</summary>
    internal static bool MayWorkOn(Actor actor, Operation? operation) =>
        actor.May(Permission.WorkOnFloor) || operation is null || operation.IsInspection;

    /// <summary>Names for the sentences, the one who taps included.</summary>
    private static async Task<Func<PersonId, string>> NamesWithAsync(CommandScope scope, GateFacts facts)
    {
        if (scope.Actor.Person is not { } person)
        {
            return facts.NameOf;
        }

        var own = await scope
            .Db.Users.Where(u => u.Id == person.Value)
            .Select(u => u.DisplayName)
            .SingleOrDefaultAsync(scope.Cancellation);
        var others = facts.NameOf;
        return p => p == person && own is not null ? own : others(p);
    }

    /// <summary>What the history keeps of an operation before and after: codes, figures and ids, no words about people.</summary>
    internal sealed record Snapshot(
        string Code,
        OperationProgress Progress,
        int Running,
        int Entries,
        DateTimeOffset? FinishedAt,
        string? Hold,
        bool Overridden
    )
    {
        public static Snapshot Of(Operation o) =>
            new(
                o.Code,
                o.Progress,
                o.Running.Count(),
                o.Times.Count,
                o.FinishedAt,
                o.CurrentHold?.Reason.Code,
                o.Override is not null
            );
    }
}

/// <summary>Somebody goes to work on an operation.</summary>
public sealed class StartOperation(OperationChange change) : IUseCase
{
    public Task<Outcome<OperationChanged>> RunAsync(JobId job, string code, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            code,
            new { job, code },
            envelope,
            "operation.started",
            a => a.Job.Start(code, a.Tap, a.Facts),
            null,
            ct
        );
}

/// <summary>Somebody leaves an operation; the time stays.</summary>
public sealed class StopOperation(OperationChange change) : IUseCase
{
    public Task<Outcome<OperationChanged>> RunAsync(JobId job, string code, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            code,
            new { job, code },
            envelope,
            "operation.stopped",
            a => a.Job.Stop(code, a.Tap, a.Facts),
            null,
            ct
        );
}

/// <summary>An operation is done.</summary>
public sealed class FinishOperation(OperationChange change) : IUseCase
{
    public Task<Outcome<OperationChanged>> RunAsync(JobId job, string code, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            code,
            new { job, code },
            envelope,
            "operation.finished",
            a =>
                InspectionFirst(a.Scope.Actor, a.Job, a.Facts, code) is { } refused
                    ? refused
                    : a.Job.Finish(code, a.Tap, a.Facts),
            null,
            ct
        );

    /// <summary>Whoever inspects is another than the one who works: somebody who is no inspector finishes an inspection only when its hold lines are passed.</summary>
    internal static Failure? InspectionFirst(Actor worker, Job job, GateFacts facts, string code)
    {
        if (
            worker.May(Permission.SignOff) || job.Operation(code) is not { IsInspection: true, IsOver: false } operation
        )
        {
            return null;
        }

        var open = facts.OpenHoldLines.Count(l => l.Operation == code);
        return open == 0
            ? null
            : Failure.Because(
                "inspection",
                $"{code} {operation.Title} is an inspection, and {(open == 1 ? "one of its hold lines is" : $"{open} of its hold lines are")} not passed. An inspector passes them; then it can be finished.",
                code
            );
    }
}

/// <summary>A mistaken finish is taken back within two minutes.</summary>
public sealed class UndoFinish(OperationChange change) : IUseCase
{
    public Task<Outcome<OperationChanged>> RunAsync(JobId job, string code, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            code,
            new { job, code },
            envelope,
            "operation.finishUndone",
            a => a.Job.UndoFinish(code, a.Facts),
            null,
            ct
        );
}

/// <summary>Work on an operation stops until the hold is lifted.</summary>
public sealed class HoldOperation(
    OperationChange change,
    ListPhotos photos,
    IImageProcessor images,
    IFileStore files,
    RememberRefusedInput remember
) : IUseCase
{
    /// <param name="Reason">The code of one of the shop's reasons such as <c>partMissing</c>, or words of one's own.</param>
    /// <param name="Note">More about it.</param>
    /// <param name="PhotoId">A photo of the job that shows what is in the way.</param>
    public sealed record Request(string? Reason = null, string? Note = null, Guid? PhotoId = null);

    public async Task<Outcome<OperationChanged>> RunAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    )
    {
        var photo = request.PhotoId is { } wanted ? new PhotoId(wanted) : (PhotoId?)null;
        if (photo is { } shown && !(await photos.IsOfJobAsync(job, shown, ct)))
        {
            return Failure.Field("photoId", "This is no photo of this job.");
        }

        return await HoldAsync(
            job,
            code,
            request,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            () => photo,
            null,
            ct
        );
    }

    /// <summary>The same with a new picture: photo and hold are taken together or not at all.</summary>
    public async Task<Outcome<OperationChanged>> WithPhotoAsync(
        JobId job,
        string code,
        Request request,
        PhotoInput input,
        ReadOnlyMemory<byte> original,
        Envelope envelope,
        CancellationToken ct
    )
    {
        if (!envelope.Actor.MayDo(Permission.AddPhotos))
        {
            return new Failure.Forbidden("You do not have the role that adding photos needs. Ask the owner.");
        }

        if (!(await images.ProcessAsync(original, "file", ct)).TryGet(out var image, out var failure))
        {
            await remember.RunAsync(envelope, failure, ct);
            return failure;
        }

        PhotoId? added = null;
        return await HoldAsync(
            job,
            code,
            request,
            new
            {
                job,
                code,
                request,
                input,
                image.OriginalSha256,
            },
            envelope,
            () => added,
            async scope =>
            {
                var photo = await PhotoIntake.AddAsync(scope, files, job, input, image);
                added = photo.IsSuccess ? photo.Value.Id : null;
                return photo.Failure;
            },
            ct
        );
    }

    private Task<Outcome<OperationChanged>> HoldAsync(
        JobId job,
        string code,
        Request request,
        object content,
        Envelope envelope,
        Func<PhotoId?> photo,
        Func<CommandScope, Task<Failure?>>? first,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.Inspect,
            job,
            code,
            content,
            envelope,
            "operation.held",
            a => Read(request, a.Shop).Then(why => a.Job.Hold(code, why.Reason, why.Note, a.Tap, a.Facts, photo())),
            o => new { reason = o.CurrentHold!.Reason.Code, photo = o.CurrentHold.Photo },
            ct,
            first
        );

    private static Outcome<(HoldReason Reason, string? Note)> Read(Request request, Shop shop)
    {
        var errors = new FieldErrors();
        var reason = TextRules.Optional(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
        var note = TextRules.Optional(request.Note, "note", "The note", TextRules.ShortText, errors);
        // A reason that is no longer offered is taken too: a tap may come late.
        var known = shop
            .HoldReasons.Append(HoldReason.Other)
            .FirstOrDefault(r => string.Equals(r.Code, reason, StringComparison.OrdinalIgnoreCase));
        if (known is null && reason is not null)
        {
            note = note is null ? reason : $"{reason}: {note}";
        }

        return errors.Any ? errors.ToFailure() : (known ?? HoldReason.Other, note);
    }
}

/// <summary>A hold is lifted; whoever lifts it goes on with the work, or leaves it to others.</summary>
public sealed class ResumeOperation(OperationChange change) : IUseCase
{
    /// <param name="TakeUp">Absent: those who work on the floor take the work up, others only lift the hold.</param>
    public sealed record Request(bool? TakeUp = null);

    public Task<Outcome<OperationChanged>> RunAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    )
    {
        var mayWork = envelope.Actor.May(Permission.Inspect);
        return change.RunAsync(
            envelope.Actor.May(Permission.Inspect) ? Permission.Inspect : Permission.RunJobs,
            job,
            code,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            "operation.resumed",
            a => a.Job.Resume(code, mayWork && (request.TakeUp ?? true), a.Tap, a.Facts),
            null,
            ct
        );
    }
}

/// <summary>This car does not need an operation.</summary>
public sealed class SetOperationNotNeeded(OperationChange change) : IUseCase
{
    public sealed record Request(string? Reason);

    public Task<Outcome<OperationChanged>> RunAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.RunJobs,
            job,
            code,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            "operation.setNotNeeded",
            a =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                return errors.Any ? errors.ToFailure() : a.Job.SetNotNeeded(code, reason, a.Tap.Worker, a.Facts);
            },
            null,
            ct
        );
}

/// <summary>The taps of the floor together.</summary>
public sealed record OperationTaps(
    StartOperation Start,
    StopOperation Stop,
    FinishOperation Finish,
    UndoFinish Undo,
    HoldOperation Hold,
    ResumeOperation Resume
) : IUseCase;
