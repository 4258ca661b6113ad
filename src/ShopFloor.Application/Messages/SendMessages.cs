using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>One run at a time in a process.</summary>
public sealed class SendingGate : IDisposable
{
    public SemaphoreSlim Turn { get; } = new(1, 1);

    public void Dispose() => Turn.Dispose();
}

/// <summary>Sends what is due. Several servers may do so at the same time: a message belongs for the time of its lease to the one whose update took it.</summary>
public sealed class SendMessages(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    WriteMessage write,
    IMailTransport transport,
    MessageSeal seal,
    SendingGate gate,
    TimeProvider clock,
    ILogger<SendMessages> log
) : IUseCase
{
    private const int AtATime = 20;

    /// <summary>Tries each message that is due once; how many were tried. Without a mail server they wait.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        await gate.Turn.WaitAsync(ct);
        try
        {
            return await RunAsync(ct);
        }
        finally
        {
            gate.Turn.Release();
        }
    }

    private async Task<int> RunAsync(CancellationToken ct)
    {
        var tried = 0;
        while (await ServerAsync(ct) is { } server)
        {
            var taken = 0;
            foreach (var id in await DueAsync(ct))
            {
                ct.ThrowIfCancellationRequested();
                if (await TakeAsync(id, ct))
                {
                    await SendAsync(id, server, ct);
                    taken++;
                }
            }

            if (taken == 0)
            {
                break;
            }

            tried += taken;
        }

        return tried;
    }

    private async Task<MailServer?> ServerAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var settings = await db.Set<MailSettings>().AsNoTracking().SingleOrDefaultAsync(ct);
        return settings is { IsOn: true } ? MailServers.Of(settings, seal) : null;
    }

    private async Task<List<OutboxMessageId>> DueAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<OutboxMessage>()
            .Where(m =>
                m.State == MessageState.Waiting && m.DueAt <= now && (m.LeaseUntil == null || m.LeaseUntil <= now)
            )
            .OrderBy(m => m.DueAt)
            .ThenBy(m => m.EventSequence)
            .Select(m => m.Id)
            .Take(AtATime)
            .ToListAsync(ct);
    }

    /// <summary>True for exactly one of several that want it at the same time.</summary>
    private async Task<bool> TakeAsync(OutboxMessageId id, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var until = now + OutboxMessage.Lease;
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<OutboxMessage>()
                .Where(m =>
                    m.Id == id
                    && m.State == MessageState.Waiting
                    && m.DueAt <= now
                    && (m.LeaseUntil == null || m.LeaseUntil <= now)
                )
                .ExecuteUpdateAsync(
                    s =>
                        s.SetProperty(m => m.LeaseUntil, until)
                            .SetProperty(m => m.Attempts, m => m.Attempts + 1)
                            .SetProperty(m => m.Version, m => m.Version + 1),
                    ct
                ) == 1;
    }

    private async Task SendAsync(OutboxMessageId id, MailServer server, CancellationToken ct)
    {
        MailAnswer answer;
        try
        {
            if (await write.RunAsync(id, ct) is not { } mail)
            {
                return;
            }

            answer = await transport.SendAsync(server, mail, ct);
        }
        catch (Exception exception) when (exception is not OperationCanceledException)
        {
            // Its kind only: the text of an exception may hold an address.
            log.LogError("Message {Id} could not be sent: {Exception}", id, exception.GetType().Name);
            answer = new MailAnswer(
                MailResult.Trouble,
                "Something unforeseen went wrong while it was written or sent."
            );
        }

        await SettleAsync(id, answer);
    }

    /// <summary>Not cancelled in the middle: a server that stops still notes what it sent.</summary>
    private Task<Outcome<Done>> SettleAsync(OutboxMessageId id, MailAnswer answer) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var message = await scope.Db.Set<OutboxMessage>().SingleAsync(m => m.Id == id, scope.Cancellation);
                if (message.State != MessageState.Waiting)
                {
                    return Outcome.Ok;
                }

                switch (answer.Result)
                {
                    case MailResult.Taken:
                        message.Sent(scope.Now);
                        break;
                    case MailResult.Refused:
                        message.GiveUp(answer.Sentence, scope.Now);
                        break;
                    default:
                        message.TryLater(answer.Sentence, scope.Now);
                        break;
                }

                if (message.State != MessageState.Waiting)
                {
                    scope.Record(
                        MessageEvents.Of(
                            message.State == MessageState.Sent ? "message.sent" : "message.failed",
                            message
                        )
                    );
                }

                return Outcome.Ok;
            },
            CancellationToken.None
        );
}

internal static class MailServers
{
    public static MailServer Of(MailSettings settings, MessageSeal seal) =>
        new(
            settings.Host,
            settings.Port,
            settings.Security,
            settings.User,
            settings.SealedPassword is { } kept ? seal.OpenPassword(kept) : null
        );
}
