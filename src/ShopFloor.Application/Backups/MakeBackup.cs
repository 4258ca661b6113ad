using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Backups;
using ShopFloor.Domain.Backups;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Backups;

/// <summary>Makes a backup, notes what became of it, and lets old ones go.</summary>
public sealed class MakeBackup(
    BackupWriter writer,
    BackupSettings settings,
    IDbContextFactory<ShopDbContext> contexts,
    TimeProvider clock
) : IUseCase
{
    /// <summary>Slot of what the owner asks for: pressed twice it is made once.</summary>
    private const string AskedSlot = "asked";

    /// <summary>After a failure it is tried again after this time.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromHours(1);

    /// <summary>A backup now, in the usual folder.</summary>
    public async Task<Outcome<BackupWriter.Made>> RunAsync(Actor actor, CancellationToken ct) =>
        actor.MayDo(Permission.RunShop)
            ? await MakeAsync(BackupReason.Asked, AskedSlot, null, settings.PassphraseAsync, ct)
            : new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");

    /// <summary>A backup to a place of one's own choice, by the command line.</summary>
    /// <param name="to">A folder that exists, or the name of a file that does not.</param>
    public Task<Outcome<BackupWriter.Made>> ToAsync(string to, string? passphrase, CancellationToken ct) =>
        MakeAsync(
            BackupReason.Asked,
            slot: null,
            Directory.Exists(to)
                ? Path.Combine(to, BackupWriter.NameFor(clock.GetUtcNow(), passphrase is not null))
                : to,
            _ => Task.FromResult(passphrase),
            ct
        );

    /// <summary>A backup if one is due; of several servers one makes it. False where none was to be made.</summary>
    public async Task<bool> RunIfDueAsync(CancellationToken ct)
    {
        if (!settings.IsDaily)
        {
            return false;
        }

        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        if (!await db.Shops.AnyAsync(ct))
        {
            return false;
        }

        await EndDeadOnesAsync(db, ct);
        var recently = now - Pause;
        var last = await db.Set<BackupRow>()
            .Where(b => b.FileName != null)
            .OrderByDescending(b => b.EndedAt)
            .Select(b => new { b.Id, b.EndedAt })
            .FirstOrDefaultAsync(ct);
        return BackupRules.IsDue(last?.EndedAt, now)
            && !await db.Set<BackupRow>().AnyAsync(b => b.Failure != null && b.EndedAt > recently, ct)
            && (
                await MakeAsync(
                    BackupReason.Daily,
                    last is null ? "first" : last.Id.ToString("N"),
                    null,
                    settings.PassphraseAsync,
                    ct
                )
            ).IsSuccess;
    }

    private async Task<Outcome<BackupWriter.Made>> MakeAsync(
        BackupReason reason,
        string? slot,
        string? file,
        Func<CancellationToken, Task<string?>> passphraseOf,
        CancellationToken ct
    )
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        await EndDeadOnesAsync(db, ct);
        var now = clock.GetUtcNow();
        var row = new BackupRow
        {
            Id = Guid.CreateVersion7(now),
            Reason = reason,
            StartedAt = now,
            Slot = slot,
            Machine = Environment.MachineName,
        };
        db.Add(row);
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateException exception) when (ShopDatabase.IsDuplicate(exception))
        {
            return Failure.Because("backupRunning", "This backup is being made already: wait until it is done.");
        }

        try
        {
            var passphrase = await passphraseOf(ct);
            var made = await writer.WriteAsync(
                file ?? Path.Combine(settings.Folder, BackupWriter.NameFor(now, passphrase is not null)),
                passphrase,
                ct
            );
            (row.FileName, row.Bytes, row.IsLocked) = (Path.GetFileName(made.Path), made.Bytes, passphrase is not null);
            // The slot of a daily one stays taken: it is the one of its day.
            row.Slot = reason == BackupReason.Asked ? null : row.Slot;
            await EndAsync(db, row);
            LetOldOnesGo();
            return made;
        }
        catch (BackupException trouble)
        {
            (row.Slot, row.Failure) = (
                null,
                trouble.Message[..Math.Min(trouble.Message.Length, BackupRow.LongestText)]
            );
            await EndAsync(db, row);
            return Failure.Because("backupFailed", trouble.Message);
        }
    }

    /// <summary>Attempts that were cut off with their program no longer stand in the way.</summary>
    private async Task EndDeadOnesAsync(ShopDbContext db, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var dead = now - BackupWriter.Longest;
        await db.Set<BackupRow>()
            .Where(b => b.EndedAt == null && b.StartedAt < dead)
            .ExecuteUpdateAsync(
                s =>
                    s.SetProperty(b => b.EndedAt, now)
                        .SetProperty(b => b.Slot, (string?)null)
                        .SetProperty(b => b.Failure, "The program ended while the backup was being made."),
                ct
            );
    }

    /// <summary>Noted also where nobody waits for it any more.</summary>
    private async Task EndAsync(ShopDbContext db, BackupRow row)
    {
        row.EndedAt = clock.GetUtcNow();
        await db.SaveChangesAsync(CancellationToken.None);
    }

    private void LetOldOnesGo()
    {
        if (!Directory.Exists(settings.Folder))
        {
            return;
        }

        var mayGo = Directory
            .EnumerateFiles(settings.Folder)
            .Select(f => (File: f, MadeAt: BackupWriter.MadeAt(Path.GetFileName(f))))
            .Where(f => f.MadeAt is not null)
            .ToLookup(f => f.MadeAt!.Value, f => f.File);
        foreach (
            var file in BackupRules.MayGo([.. mayGo.Select(f => f.Key)], clock.GetUtcNow()).SelectMany(at => mayGo[at])
        )
        {
            try
            {
                File.Delete(file);
            }
            catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
            {
                // It goes with the next one.
            }
        }
    }
}
