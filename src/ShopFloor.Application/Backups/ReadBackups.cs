using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Backups;
using ShopFloor.Domain.Backups;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Backups;

/// <param name="FileName">Null where none came of it.</param>
public sealed record BackupView(
    Guid Id,
    BackupReason Reason,
    DateTimeOffset StartedAt,
    DateTimeOffset? EndedAt,
    string? FileName,
    string Machine,
    long Bytes,
    bool IsLocked,
    string? Failure
);

/// <param name="LastGoodAt">When the last good one was made; null when there is none.</param>
/// <param name="IsOld">Whether that is too long ago; never where the shop has said that it is backed up by other means.</param>
/// <param name="Latest">The newest attempts, newest first.</param>
public sealed record BackupStanding(
    DateTimeOffset? LastGoodAt,
    bool IsOld,
    bool IsDaily,
    bool IsLocked,
    string Folder,
    TimeZoneInfo Zone,
    IReadOnlyList<BackupView> Latest
);

/// <summary>What stands between the shop and the loss of its data.</summary>
public sealed class ReadBackups(QueryRunner queries, BackupSettings settings, TimeProvider clock) : IUseCase
{
    public const int Shown = 50;

    public Task<Outcome<BackupStanding>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<BackupStanding>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var (last, isOld) = await AgeAsync(db, settings, clock.GetUtcNow(), ct);
                return new BackupStanding(
                    last,
                    isOld,
                    settings.IsDaily,
                    settings.PassphraseFile is not null,
                    settings.Folder,
                    (await db.Shops.SingleAsync(ct)).Zone,
                    await db.Set<BackupRow>()
                        .OrderByDescending(b => b.StartedAt)
                        .Take(Shown)
                        .Select(b => new BackupView(
                            b.Id,
                            b.Reason,
                            b.StartedAt,
                            b.EndedAt,
                            b.FileName,
                            b.Machine,
                            b.Bytes,
                            b.IsLocked,
                            b.Failure
                        ))
                        .ToListAsync(ct)
                );
            },
            ct
        );

    /// <summary>When the last good one was made, and whether that is too long ago for what there is to lose.</summary>
    public static async Task<(DateTimeOffset? LastGoodAt, bool IsOld)> AgeAsync(
        ShopDbContext db,
        BackupSettings settings,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var last = await db.Set<BackupRow>()
            .Where(b => b.FileName != null)
            .OrderByDescending(b => b.EndedAt)
            .Select(b => b.EndedAt)
            .FirstOrDefaultAsync(ct);
        var since = await db
            .Events.OrderBy(e => e.Sequence)
            .Select(e => (DateTimeOffset?)e.RecordedAt)
            .FirstOrDefaultAsync(ct);
        return (last, settings.IsDaily && since is { } first && BackupRules.IsOld(last, first, now));
    }
}
