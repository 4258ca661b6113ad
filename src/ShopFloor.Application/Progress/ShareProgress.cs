using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>The last move of the promised day as the shop wrote it down for itself, and what the customer is told of it.</summary>
/// <param name="Told">On the customer's page; null for nothing.</param>
public sealed record MoveView(DateOnly From, DateOnly To, string Reason, string? Told);

public sealed record CustomerNoteView(CustomerNoteId Id, string Text, DateTimeOffset WrittenAt);

/// <summary>What the customer's page of a job shows by the shop's choice.</summary>
/// <param name="Move">Null where the day was never moved.</param>
/// <param name="Notes">Those that stand, oldest first.</param>
/// <param name="PhotosShown">How many photos are on the page.</param>
public sealed record SharingView(
    bool ShowsPrices,
    IReadOnlyList<ProgressPaper> Papers,
    MoveView? Move,
    IReadOnlyList<CustomerNoteView> Notes,
    int PhotosShown,
    bool ShowsForecast
)
{
    internal static async Task<SharingView> OfAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var sharing = await db.Set<ProgressSharing>().SingleOrDefaultAsync(s => s.JobId == job.Id, ct);
        var notes = await StandingNotes(db, job.Id).ToListAsync(ct);
        var move = job.PromiseMoves.Count > 0 ? job.PromiseMoves[^1] : null;
        return new SharingView(
            sharing?.ShowsPrices ?? false,
            sharing?.Papers ?? [],
            move is null ? null : new MoveView(move.From, move.To, move.Reason, sharing?.ReasonFor(move)),
            [.. notes.Select(n => new CustomerNoteView(n.Id, n.Text ?? "", n.WrittenAt))],
            await db.Set<Domain.Intake.Photo>().CountAsync(p => p.JobId == job.Id && p.IsShown, ct),
            sharing?.ShowsForecast ?? false
        );
    }

    internal static IQueryable<CustomerNote> StandingNotes(ShopDbContext db, JobId job) =>
        db.Set<CustomerNote>()
            .Where(n => n.JobId == job && n.WithdrawnAt == null)
            .OrderBy(n => n.WrittenAt)
            .ThenBy(n => n.Id);
}

/// <summary>Reads what the customer's page shows by the shop's choice.</summary>
public sealed class ReadSharing(QueryRunner queries) : IUseCase
{
    public Task<Outcome<SharingView>> RunAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<SharingView>(
            Permission.ShareProgress,
            actor,
            async db =>
                await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is { } job
                    ? await SharingView.OfAsync(db, job, ct)
                    : Failure.Missing("job"),
            ct
        );
}

/// <summary>The part that all changes of what is shown have in common.</summary>
public sealed class SharingChange(CommandRunner runner) : IUseCase
{
    internal Task<Outcome<SharingView>> RunAsync(
        JobId id,
        object content,
        Envelope envelope,
        Func<CommandScope, Job, ProgressSharing, Task<Outcome<EventDraft?>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<SharingView>(
            Permission.ShareProgress,
            envelope,
            content,
            async scope =>
            {
                var (db, token) = (scope.Db, scope.Cancellation);
                if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, token) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var sharing = await db.Set<ProgressSharing>().SingleOrDefaultAsync(s => s.JobId == id, token);
                if (sharing is null)
                {
                    db.Add(sharing = new ProgressSharing(id));
                }

                if (!(await act(scope, job, sharing)).TryGet(out var draft, out var failure))
                {
                    return failure;
                }

                if (draft is not null)
                {
                    scope.Record(draft);
                    await scope.SaveAsync();
                }

                return await SharingView.OfAsync(db, job, token);
            },
            ct
        );
}

/// <summary>Chooses whether prices are shown, and which papers.</summary>
public sealed class ChooseSharing(SharingChange change) : IUseCase
{
    /// <param name="ShowsForecast">Between which days the car will likely be done; absent leaves it as it is.</param>
    public sealed record Request(bool? ShowsPrices, IReadOnlyList<ProgressPaper>? Papers, bool? ShowsForecast = null);

    public Task<Outcome<SharingView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            (scope, job, sharing) =>
            {
                var errors = new FieldErrors();
                errors.AddIf(
                    request.ShowsPrices is null,
                    "showsPrices",
                    "Say whether prices are shown: true or false."
                );
                errors.AddIf(
                    request.Papers is null,
                    "papers",
                    "List the papers that are shown; the list may be empty."
                );
                if (errors.Any)
                {
                    return Task.FromResult<Outcome<EventDraft?>>(errors.ToFailure());
                }

                var before = new
                {
                    sharing.ShowsPrices,
                    sharing.Papers,
                    sharing.ShowsForecast,
                };
                sharing.Choose(request.ShowsPrices!.Value, request.Papers!, request.ShowsForecast);
                var isSame =
                    before.ShowsPrices == sharing.ShowsPrices
                    && before.Papers.SequenceEqual(sharing.Papers)
                    && before.ShowsForecast == sharing.ShowsForecast;
                return Task.FromResult(
                    Outcome<EventDraft?>.Success(
                        isSame
                            ? null
                            : new EventDraft(
                                "progressSharing.changed",
                                "progressSharing",
                                id.Value,
                                id,
                                before,
                                new
                                {
                                    sharing.ShowsPrices,
                                    sharing.Papers,
                                    sharing.ShowsForecast,
                                }
                            )
                    )
                );
            },
            ct
        );
}

/// <summary>Tells the customer why the promised day was moved, or takes that back.</summary>
public sealed class ExplainMove(SharingChange change) : IUseCase
{
    /// <param name="Text">Words for the customer; absent takes back what was told.</param>
    public sealed record Request(string? Text = null);

    public Task<Outcome<SharingView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            (scope, job, sharing) =>
            {
                if (request.Text is null)
                {
                    var wasTold = sharing.Reason is not null;
                    sharing.TakeReasonBack();
                    return Task.FromResult(
                        Outcome<EventDraft?>.Success(wasTold ? Draft(id, "progressSharing.reasonTakenBack") : null)
                    );
                }

                var move = job.PromiseMoves.Count > 0 ? job.PromiseMoves[^1] : null;
                return Task.FromResult(
                    sharing.Explain(move, request.Text).Then<EventDraft?>(_ => Draft(id, "progressSharing.reasonTold"))
                );
            },
            ct
        );

    /// <summary>Tells the reason of a move in the command that moves the day, so that the message about it can say it.</summary>
    internal static async Task TellAsync(CommandScope scope, Job job, string reason)
    {
        var sharing = await scope
            .Db.Set<ProgressSharing>()
            .SingleOrDefaultAsync(s => s.JobId == job.Id, scope.Cancellation);
        if (sharing is null)
        {
            sharing = new ProgressSharing(job.Id);
            scope.Db.Add(sharing);
        }

        if (sharing.Explain(job.PromiseMoves[^1], reason).IsSuccess)
        {
            scope.Record(Draft(job.Id, "progressSharing.reasonTold"));
        }
    }

    private static EventDraft Draft(JobId id, string type) => new(type, "progressSharing", id.Value, id);
}

/// <summary>Writes a note on the customer's page.</summary>
public sealed class WriteCustomerNote(SharingChange change) : IUseCase
{
    public sealed record Request(string? Text);

    public Task<Outcome<SharingView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, job, sharing) =>
            {
                if (
                    await SharingView.StandingNotes(scope.Db, id).CountAsync(scope.Cancellation)
                    >= CustomerNote.MostOfJob
                )
                {
                    return Failure.Because(
                        "tooManyNotes",
                        $"{CustomerNote.MostOfJob} notes stand on the customer's page. Take one back first."
                    );
                }

                var written = CustomerNote.Write(scope.NewId<CustomerNoteId>(), id, request.Text, scope.Now);
                if (!written.TryGet(out var note, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(note);
                return Outcome<EventDraft?>.Success(
                    new EventDraft("customerNote.written", "customerNote", note.Id.Value, id)
                );
            },
            ct
        );
}

/// <summary>Takes a note off the customer's page.</summary>
public sealed class WithdrawCustomerNote(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(CustomerNoteId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.ShareProgress,
            envelope,
            new { id },
            async scope =>
            {
                var note = await scope.Db.Set<CustomerNote>().SingleOrDefaultAsync(n => n.Id == id, scope.Cancellation);
                if (note is null)
                {
                    return Failure.Missing("note");
                }

                if (note.WithdrawnAt is null)
                {
                    note.Withdraw(scope.Now);
                    scope.Record(new EventDraft("customerNote.withdrawn", "customerNote", id.Value, note.JobId));
                }

                return default(Done);
            },
            ct
        );
}
