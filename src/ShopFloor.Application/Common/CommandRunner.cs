using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>The one way in which anything is changed: checks the permission and the times, recognises a repeat, runs the change, its events and its
/// idempotency record in one transaction, and announces it after the commit.</summary>
public sealed class CommandRunner(
    IDbContextFactory<ShopDbContext> contexts,
    ShopDatabase database,
    TimeProvider clock,
    IChangeNotices notices
)
{
    /// <summary>How far a device's clock may run ahead before its time is refused as lying in the future.</summary>
    public static readonly TimeSpan ClockTolerance = TimeSpan.FromSeconds(30);

    /// <summary>The oldest tap that is still taken.</summary>
    public static readonly TimeSpan OldestTap = TimeSpan.FromDays(7);

    private const int Attempts = 5;

    /// <summary>Runs a command.</summary>
    /// <param name="permission">What the actor must be allowed to do.</param>
    /// <param name="envelope">Who, when, which key.</param>
    /// <param name="content">The parsed request: two commands with one key are the same if this is the same.</param>
    /// <param name="act">Loads, asks the Domain, records events. Run again with a fresh scope when somebody else saved first, so it must have no effect outside the scope.</param>
    /// <param name="ct">Gives up before the commit; never in the middle of it.</param>
    public async Task<Outcome<T>> RunAsync<T>(
        Permission permission,
        Envelope envelope,
        object? content,
        Func<CommandScope, Task<Outcome<T>>> act,
        CancellationToken ct
    )
    {
        if (!envelope.Actor.May(permission))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        if (envelope.Actor.IsReader)
        {
            return new Failure.Forbidden("This key may only read. Make one that may write too.");
        }

        return await RunUncheckedAsync(envelope, content, act, ct);
    }

    /// <summary>Runs a command of somebody who holds a secret link (or of the first set-up): the caller has checked the secret, no role is asked.</summary>
    public Task<Outcome<T>> RunUncheckedAsync<T>(
        Envelope envelope,
        object? content,
        Func<CommandScope, Task<Outcome<T>>> act,
        CancellationToken ct
    ) => Telemetry.WatchAsync(() => TryAsync(envelope, content, act, ct));

    private async Task<Outcome<T>> TryAsync<T>(
        Envelope envelope,
        object? content,
        Func<CommandScope, Task<Outcome<T>>> act,
        CancellationToken ct
    )
    {
        var now = Milliseconds(clock.GetUtcNow());
        if (CheckTimes(envelope, now) is { } wrong)
        {
            return wrong;
        }

        var claim = IdempotencyStore.ClaimOf(envelope, content);
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await AttemptAsync(envelope, claim, act, now, ct);
            }
            catch (DbUpdateConcurrencyException) when (attempt < Attempts)
            {
                // Somebody else saved first: look again, so that the answer can say what they did.
            }
            catch (DbUpdateConcurrencyException)
            {
                return Failure.Because("busy", "Several people change this at the same time. Try again.");
            }
            catch (Exception exception) when (ShopDatabase.IsBusy(exception))
            {
                return Failure.Because(
                    "busy",
                    "The same command, or another one on the same data, is still running. Try again in a moment."
                );
            }
            catch (Exception exception) when (ShopDatabase.IsDuplicate(exception) && attempt < Attempts)
            {
                // Two at once wanted the same unique value, or the next number of a list: the next look finds the first one's.
            }
            catch (Exception exception) when (ShopDatabase.IsDuplicate(exception))
            {
                return Failure.Because(
                    "duplicate",
                    "This exists already, or several people add to it at the same time. Load it again and look."
                );
            }
        }
    }

    /// <summary>The answer that was given to the same key before, for commands that work something out first; null where the key is new.</summary>
    public async Task<Outcome<T>?> RepeatAsync<T>(Envelope envelope, object? content, CancellationToken ct)
    {
        if (IdempotencyStore.ClaimOf(envelope, content) is not { } claim)
        {
            return null;
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        if (!await db.IdempotencyRecords.AnyAsync(r => r.Key == claim.Key, ct))
        {
            return null;
        }

        return await IdempotencyStore.ReplayAsync<T>(db, claim, ct);
    }

    private async Task<Outcome<T>> AttemptAsync<T>(
        Envelope envelope,
        IdempotencyStore.Claim? claim,
        Func<CommandScope, Task<Outcome<T>>> act,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        Failure failure;
        await using (var transaction = await db.Database.BeginTransactionAsync(ct))
        {
            if (database.Kind == DatabaseKind.Postgres)
            {
                await db.Database.ExecuteSqlAsync($"SET LOCAL lock_timeout = '10s'", ct);
            }

            if (claim is not null && !await IdempotencyStore.TryTakeAsync(db, claim, now, ct))
            {
                return await IdempotencyStore.ReplayAsync<T>(db, claim, ct);
            }

            var scope = new CommandScope(
                db,
                database.Kind,
                envelope,
                now,
                envelope.OccurredAt is { } at ? Milliseconds(at) : now,
                ct
            );
            var outcome = await act(scope);
            if (outcome.TryGet(out var result, out var refused))
            {
                await scope.SaveAsync();
                if (claim is not null)
                {
                    await IdempotencyStore.RememberResultAsync(db, claim, result, ct);
                }

                await transaction.CommitAsync(CancellationToken.None);
                await notices.PublishAsync(scope.Notices, CancellationToken.None);
                return outcome;
            }

            failure = refused;
            await transaction.RollbackAsync(CancellationToken.None);
        }

        if (claim is not null)
        {
            db.ChangeTracker.Clear();
            await IdempotencyStore.RememberFailureAsync(db, claim, failure, now, CancellationToken.None);
        }

        return failure;
    }

    private static Failure? CheckTimes(Envelope envelope, DateTimeOffset now)
    {
        if (envelope.OccurredAt > now + ClockTolerance)
        {
            return Failure.Field("occurredAt", "The time lies in the future. Set the device's clock and tap again.");
        }

        if (envelope.OccurredAt < now - OldestTap)
        {
            return Failure.Field(
                "occurredAt",
                "The time is more than 7 days ago. Ask the front desk to enter it by hand."
            );
        }

        return envelope.IdempotencyKey is { Length: 0 or > Data.Idempotency.IdempotencyRecord.LongestKey }
            ? Failure.Field("Idempotency-Key", "An Idempotency-Key has 1 to 200 characters.")
            : null;
    }

    private static DateTimeOffset Milliseconds(DateTimeOffset at) =>
        DateTimeOffset.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
}
