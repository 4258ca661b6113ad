using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>A message as the office lists it.</summary>
/// <param name="To">Null before it was written, and after the customer was erased.</param>
/// <param name="Text">What it says; secret links are left out.</param>
/// <param name="Problem">Why it failed, was put off or was not needed.</param>
/// <param name="CanCancel">It has not gone out and can be taken back.</param>
/// <param name="CanRepeat">It can be sent again (or once more tried).</param>
public sealed record MessageView(
    OutboxMessageId Id,
    long Version,
    MessageKind Kind,
    MessageState State,
    JobId? JobId,
    string? JobNumber,
    DateTimeOffset CreatedAt,
    DateTimeOffset DueAt,
    DateTimeOffset? EndedAt,
    int Attempts,
    string? To,
    string? Subject,
    string? Text,
    string? Problem,
    bool CanCancel,
    bool CanRepeat
)
{
    internal static MessageView Of(OutboxMessage m, string? job, MessageSeal seal, DateTimeOffset now)
    {
        var head = seal.OpenHead(m.SealedHead);
        return new(
            m.Id,
            m.Version,
            m.Kind,
            m.State,
            m.JobId,
            job,
            m.CreatedAt,
            m.DueAt,
            m.EndedAt,
            m.Attempts,
            head?.To,
            head?.Subject,
            head?.Text,
            m.Problem,
            m.State is MessageState.Waiting or MessageState.Failed && !m.IsLeased(now),
            m.State != MessageState.Waiting
        );
    }
}

/// <summary>A list of messages, and whether they go out at all.</summary>
public sealed record MessageListView(bool IsMailOn, int Waiting, int Failed, Page<MessageView> Messages);

/// <summary>Lists messages, newest first: of a job (with those of its quote), or of the whole shop.</summary>
public sealed class ReadMessages(QueryRunner queries, MessageSeal seal, TimeProvider clock) : IUseCase
{
    public Task<Outcome<MessageListView>> OfJobAsync(JobId id, PageRequest page, Actor actor, CancellationToken ct) =>
        queries.RunAsync<MessageListView>(
            Permission.ShareProgress,
            actor,
            async db =>
            {
                if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var quote = job.QuoteId.Value;
                return await ListAsync(
                    db,
                    db.Set<OutboxMessage>().Where(m => m.JobId == id || m.SubjectId == quote),
                    page,
                    ct
                );
            },
            ct
        );

    /// <param name="state">Null: all.</param>
    public Task<Outcome<MessageListView>> OfShopAsync(
        MessageState? state,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<MessageListView>(
            Permission.ShareProgress,
            actor,
            async db =>
                await ListAsync(db, db.Set<OutboxMessage>().Where(m => state == null || m.State == state), page, ct),
            ct
        );

    private async Task<MessageListView> ListAsync(
        ShopDbContext db,
        IQueryable<OutboxMessage> wanted,
        PageRequest page,
        CancellationToken ct
    )
    {
        var now = clock.GetUtcNow();
        var isOn = await db.Set<MailSettings>().AnyAsync(s => s.IsOn, ct);
        var all = db.Set<OutboxMessage>();
        var cut = await page.CutAsync(
            wanted.OrderByDescending(m => m.CreatedAt).ThenByDescending(m => m.Id),
            m => m,
            ct
        );
        var ids = cut.Items.Select(m => m.JobId).OfType<JobId>().Distinct().ToList();
        var numbers = await db.Set<Job>()
            .Where(j => ids.Contains(j.Id))
            .ToDictionaryAsync(j => j.Id, j => j.Number, ct);
        return new MessageListView(
            isOn,
            await all.CountAsync(m => m.State == MessageState.Waiting, ct),
            await all.CountAsync(m => m.State == MessageState.Failed, ct),
            new Page<MessageView>(
                [
                    .. cut.Items.Select(m =>
                        MessageView.Of(m, m.JobId is { } j ? numbers.GetValueOrDefault(j) : null, seal, now)
                    ),
                ],
                cut.PageNumber,
                cut.PageSize,
                cut.TotalCount
            )
        );
    }
}

/// <summary>Takes a message back before it goes out.</summary>
public sealed class CancelMessage(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(OutboxMessageId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.ShareProgress,
            envelope,
            new { id },
            async scope =>
            {
                var message = await scope
                    .Db.Set<OutboxMessage>()
                    .SingleOrDefaultAsync(m => m.Id == id, scope.Cancellation);
                if (message is null)
                {
                    return Failure.Missing("message");
                }

                if ((scope.Stale(message) ?? message.Cancel(scope.Now).Failure) is { } failure)
                {
                    return failure;
                }

                scope.Record(MessageEvents.Of("message.cancelled", message));
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Sends a message again: one that failed as the same message, one that went out or was not needed as a new one, written from how things stand then.</summary>
public sealed class RepeatMessage(CommandRunner runner) : IUseCase
{
    /// <param name="Id">The message that will go out: the same one where it had failed.</param>
    public sealed record Result(OutboxMessageId Id);

    public Task<Outcome<Result>> RunAsync(OutboxMessageId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Result>(
            Permission.ShareProgress,
            envelope,
            new { id },
            async scope =>
            {
                var message = await scope
                    .Db.Set<OutboxMessage>()
                    .SingleOrDefaultAsync(m => m.Id == id, scope.Cancellation);
                if (message is null)
                {
                    return Failure.Missing("message");
                }

                if (message.State == MessageState.Waiting)
                {
                    return Failure.Because("messageWaits", "This message waits to be sent already.");
                }

                var again = message;
                if (message.State == MessageState.Failed)
                {
                    message.TryAgain(scope.Now);
                }
                else
                {
                    again = OutboxMessage.Due(
                        message.Kind,
                        message.SubjectId,
                        message.JobId,
                        null,
                        scope.Now,
                        message.Id
                    );
                    scope.Db.Add(again);
                }

                scope.Record(MessageEvents.Of("message.repeated", again));
                return new Result(again.Id);
            },
            ct
        );
}
