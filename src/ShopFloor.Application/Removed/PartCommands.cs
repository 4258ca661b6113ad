using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Removed;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Removed;

/// <summary>A part comes out of the car.</summary>
public sealed class TakePartOut(CommandRunner runner) : IUseCase
{
    /// <param name="What">The part.</param>
    /// <param name="TakenFrom">Where in the car it sat.</param>
    /// <param name="Fasteners">Screws, nuts, clips that came out with it.</param>
    /// <param name="Place">Bag or shelf.</param>
    /// <param name="PhotoId">A photo of the job that shows it.</param>
    public sealed record Request(
        string? What = null,
        string? TakenFrom = null,
        int? Fasteners = null,
        string? Place = null,
        Guid? PhotoId = null
    );

    public Task<Outcome<PartOutView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<PartOutView>(
            Permission.KeepParts,
            envelope,
            new { id, request },
            async scope =>
            {
                if (!(await PartChange.CarHereAsync(scope, id)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                PhotoId? photo = request.PhotoId is { } wanted ? new PhotoId(wanted) : null;
                if (photo is not null && !await scope.Db.Set<Photo>().AnyAsync(p => p.Id == photo && p.JobId == id, ct))
                {
                    return Failure.Field("photoId", "This is no photo of this job.");
                }

                var last =
                    await scope.Db.Set<PartOut>().Where(p => p.JobId == id).MaxAsync(p => (int?)p.Number, ct) ?? 0;
                if (last >= PartOut.MostOfJob)
                {
                    return Failure.Because(
                        "tooManyParts",
                        $"{PartOut.MostOfJob} parts are on this car's list; put several things on one line."
                    );
                }

                var taken = PartOut.TakeOut(
                    scope.NewId<PartOutId>(),
                    id,
                    last + 1,
                    new PartOut.Details(request.What, request.TakenFrom, request.Fasteners, request.Place, photo),
                    PartChange.Hand(scope)
                );
                if (!taken.TryGet(out var part, out failure))
                {
                    return failure;
                }

                scope.Db.Add(part);
                scope.Record(PartChange.Event("part.out", part, null));
                await scope.SaveAsync();
                return await PartViews.OneAsync(scope.Db, part, job.Number, ct);
            },
            ct
        );
}

/// <summary>What all changes of a removed part have in common.</summary>
public sealed class PartChange(CommandRunner runner) : IUseCase
{
    internal static PartOut.Hand Hand(CommandScope scope) => new(scope.Actor.Person, scope.OccurredAt, scope.Now);

    internal static EventDraft Event(string type, PartOut part, object? before) =>
        new(type, "partOut", part.Id.Value, part.JobId, before, Facts(part));

    /// <summary>How a part stands, as the history keeps it.</summary>
    internal static object Facts(PartOut part) =>
        new
        {
            number = part.Number,
            state = part.State,
            fasteners = part.Fasteners,
            fastenersBack = part.FastenersBack,
            place = part.Place,
        };

    /// <summary>The job, as long as its car is in the shop: also that of a cancelled job, whose parts go back before it leaves.</summary>
    internal static async Task<Outcome<Job>> CarHereAsync(CommandScope scope, JobId id)
    {
        var job = await scope.Db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, scope.Cancellation);
        return job is null ? Failure.Missing("job")
            : !job.HasCarHere
                ? Failure.Because("noCar", $"No car is in the shop for {job.Number}: nothing comes out of one.")
            : !await PartViews.IsCarHereAsync(scope.Db, job, scope.Cancellation)
                ? Failure.Because(
                    "jobOver",
                    $"The car of {job.Number} has gone; its list of removed parts stays as it is."
                )
            : job;
    }

    internal Task<Outcome<PartOutView>> RunAsync(
        Permission permission,
        PartOutId id,
        object content,
        Envelope envelope,
        string eventType,
        Func<PartOut, PartOut.Hand, Outcome<Done>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<PartOutView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                var part = await scope.Db.Set<PartOut>().SingleOrDefaultAsync(p => p.Id == id, ct);
                if (part is null)
                {
                    return Failure.Missing("removed part");
                }

                if (!(await CarHereAsync(scope, part.JobId)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                var before = Facts(part);
                if ((scope.Stale(part) ?? act(part, Hand(scope)).Failure) is { } refused)
                {
                    return refused;
                }

                scope.Record(Event(eventType, part, before));
                await scope.SaveAsync();
                return await PartViews.OneAsync(scope.Db, part, job.Number, ct);
            },
            ct
        );
}

/// <summary>A removed part lies somewhere else.</summary>
public sealed class MovePart(PartChange change) : IUseCase
{
    public sealed record Request(string? Place = null);

    public Task<Outcome<PartOutView>> RunAsync(
        PartOutId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepParts,
            id,
            new { id, request },
            envelope,
            "part.moved",
            (part, hand) => part.MoveTo(request.Place, hand),
            ct
        );
}

/// <summary>A removed part is back in the car.</summary>
public sealed class RefitPart(PartChange change) : IUseCase
{
    /// <param name="FastenersBack">How many went back.</param>
    /// <param name="Note">Needed where that differs from what came out.</param>
    public sealed record Request(int? FastenersBack = null, string? Note = null);

    public Task<Outcome<PartOutView>> RunAsync(
        PartOutId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.KeepParts,
            id,
            new { id, request },
            envelope,
            "part.refitted",
            (part, hand) => part.Refit(request.FastenersBack, request.Note, hand),
            ct
        );
}

/// <summary>The owner records that a part does not go back into the car.</summary>
public sealed class LeavePartOut(PartChange change) : IUseCase
{
    /// <param name="HandedOver">It is given to the customer apart from the car; else it is not refitted at all.</param>
    public sealed record Request(bool HandedOver = false, string? Reason = null);

    public Task<Outcome<PartOutView>> RunAsync(
        PartOutId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.RunShop,
            id,
            new { id, request },
            envelope,
            "part.leftOut",
            (part, hand) => part.LeaveOut(request.HandedOver, request.Reason, hand),
            ct
        );
}

/// <summary>A part was ticked off by mistake, or came out again.</summary>
public sealed class TakePartOutAgain(PartChange change) : IUseCase
{
    public Task<Outcome<PartOutView>> RunAsync(PartOutId id, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.KeepParts,
            id,
            new { id },
            envelope,
            "part.outAgain",
            (part, hand) => part.TakeOutAgain(hand),
            ct
        );
}

/// <summary>Notes where the car and its keys are.</summary>
public sealed class NoteWhereabouts(CommandRunner runner) : IUseCase
{
    /// <param name="Car">Absent: as before.</param>
    /// <param name="Keys">Absent: as before.</param>
    public sealed record Request(string? Car = null, string? Keys = null);

    public Task<Outcome<CarThings>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<CarThings>(
            Permission.KeepParts,
            envelope,
            new { id, request },
            async scope =>
            {
                if (!(await PartChange.CarHereAsync(scope, id)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                var where = await scope.Db.Set<Whereabouts>().SingleOrDefaultAsync(w => w.JobId == id, ct);
                if (where is null)
                {
                    where = Whereabouts.Of(id);
                    scope.Db.Add(where);
                }

                var before = Facts(where);
                if (where.Note(request.Car, request.Keys, PartChange.Hand(scope)).Failure is { } refused)
                {
                    return refused;
                }

                scope.Record(new EventDraft("car.placed", "whereabouts", id.Value, id, before, Facts(where)));
                await scope.SaveAsync();
                return await PartViews.ThingsAsync(scope.Db, job, ct);
            },
            ct
        );

    private static object Facts(Whereabouts where) => new { car = where.Car, keys = where.Keys };
}
