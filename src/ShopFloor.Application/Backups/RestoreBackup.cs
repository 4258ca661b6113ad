using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Backups;

/// <summary>Puts a backup in the place of the shop's data. Everything is checked before anything is touched, and what was there before is put aside.</summary>
public sealed class RestoreBackup(ShopDatabase database, IDbContextFactory<ShopDbContext> contexts, TimeProvider clock)
    : IUseCase
{
    private const string WorkPrefix = ".restoring-";

    /// <param name="MayReplaceAnotherShop">Whether data of a shop with another id may be put aside.</param>
    public sealed record Request(string Archive, string? Passphrase, bool MayReplaceAnotherShop);

    /// <param name="PutAside">Folder with what was there before; null where nothing was.</param>
    public sealed record Restored(BackupManifest Manifest, string? PutAside);

    public async Task<Outcome<Restored>> RunAsync(Request request, CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var work = Path.Combine(database.DataFolder, $"{WorkPrefix}{Guid.CreateVersion7(now):N}");
        try
        {
            BackupWriter.MakeOwn(work);
            var dump = DatabaseDumps.Of(database);
            await using var alone = await dump.TakeAloneAsync(ct);
            LetLeftoversGo(except: work);
            var checkedOne = await CheckAsync(dump, request, work, ct);
            return await ReplaceAsync(dump, checkedOne, work, now, ct);
        }
        catch (BackupException trouble)
        {
            return Failure.Because("restoreRefused", $"{trouble.Message} Nothing was changed.");
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return Failure.Because(
                "restoreRefused",
                $"The archive could not be unpacked: {exception.Message} Nothing was changed."
            );
        }
        finally
        {
            BackupWriter.Remove(work);
        }
    }

    /// <summary>All that can be known before anything is touched.</summary>
    private async Task<(BackupManifest Manifest, bool IsAnythingThere)> CheckAsync(
        IDatabaseDump dump,
        Request request,
        string work,
        CancellationToken ct
    )
    {
        var manifest = await UnpackAsync(request, work, ct);
        await dump.CheckAsync(CopyIn(work), ct);
        var present = await dump.LookAsync(ct);
        return present?.Shop is { } shop && shop != manifest.Shop && !request.MayReplaceAnotherShop
            ? throw new BackupException(
                "The archive is of another shop than the one whose data lie here. Name that you want this (--replace-another-shop yes), or restore into an empty place."
            )
            : (manifest, present is not null);
    }

    private async Task<Outcome<Restored>> ReplaceAsync(
        IDatabaseDump dump,
        (BackupManifest Manifest, bool IsAnythingThere) archive,
        string work,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var putAside = Path.Combine(
            database.DataFolder,
            $"replaced-{now.UtcDateTime.ToString(BackupWriter.Stamp, CultureInfo.InvariantCulture)}"
        );
        BackupWriter.MakeOwn(putAside);
        try
        {
            if (database.Kind == DatabaseKind.Postgres && archive.IsAnythingThere)
            {
                await dump.WriteAsync(Path.Combine(putAside, BackupManifest.DatabaseEntry(database.Kind)), ct);
            }

            await dump.RestoreAsync(CopyIn(work), putAside, ct);
            ReplaceFiles(work, putAside);
        }
        catch (Exception exception) when (exception is BackupException or IOException or UnauthorizedAccessException)
        {
            return Failure.Because(
                "restoreFailed",
                $"The backup could not be put in place: {exception.Message} What was here before lies in {putAside}, or is still where it was. Mend the cause and restore again."
            );
        }

        if (Directory.EnumerateFileSystemEntries(putAside).Any())
        {
            return new Restored(archive.Manifest, putAside);
        }

        Directory.Delete(putAside);
        return new Restored(archive.Manifest, null);
    }

    private string CopyIn(string work) => Path.Combine(work, BackupManifest.DatabaseEntry(database.Kind));

    /// <summary>What a restore that was killed left unpacked; nobody else restores here now.</summary>
    private void LetLeftoversGo(string except)
    {
        foreach (var old in Directory.GetDirectories(database.DataFolder, $"{WorkPrefix}*").Where(d => d != except))
        {
            BackupWriter.Remove(old);
        }
    }

    private async Task<BackupManifest> UnpackAsync(Request request, string work, CancellationToken ct)
    {
        await using var file = Open(request.Archive);
        var zipped = (Stream)file;
        if (ArchiveLock.IsLocked(file))
        {
            zipped = new FileStream(
                Path.Combine(work, "unlocked"),
                FileMode.CreateNew,
                FileAccess.ReadWrite,
                FileShare.None,
                128 * 1024,
                FileOptions.DeleteOnClose
            );
            await ArchiveLock.UnlockAsync(
                file,
                zipped,
                request.Passphrase
                    ?? throw new BackupException(
                        "The archive is locked: give its passphrase (--passphrase-file FILE)."
                    ),
                ct
            );
            zipped.Position = 0;
        }

        await using (zipped)
        {
            using var zip = BackupArchive.Open(zipped);
            var manifest = await BackupArchive.ReadManifestAsync(zip, ct);
            await CheckFitAsync(manifest, ct);
            await BackupArchive.UnpackAsync(zip, manifest, work, ct);
            return manifest;
        }
    }

    private async Task CheckFitAsync(BackupManifest manifest, CancellationToken ct)
    {
        if (manifest.Database != database.Kind)
        {
            throw new BackupException(
                $"The archive is of a shop on {NameOf(manifest.Database)}; this one runs on {NameOf(database.Kind)}."
            );
        }

        if (!manifest.Entries.Any(e => e.Name == BackupManifest.DatabaseEntry(manifest.Database)))
        {
            throw new BackupException("The archive holds no database.");
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        if (manifest.Migrations.Except(db.Database.GetMigrations(), StringComparer.Ordinal).Any())
        {
            throw new BackupException("A newer program made the archive: restore it with that one.");
        }
    }

    private void ReplaceFiles(string work, string putAside)
    {
        if (database.Kind != DatabaseKind.Sqlite)
        {
            return;
        }

        var files = Path.Combine(database.DataFolder, "files");
        if (Directory.Exists(files))
        {
            Directory.Move(files, Path.Combine(putAside, "files"));
        }

        if (Directory.Exists(Path.Combine(work, "files")))
        {
            Directory.Move(Path.Combine(work, "files"), files);
        }
    }

    private static FileStream Open(string path)
    {
        try
        {
            return new FileStream(path, FileMode.Open, FileAccess.Read);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The archive cannot be opened: {exception.Message}", exception);
        }
    }

    private static string NameOf(DatabaseKind kind) => kind == DatabaseKind.Sqlite ? "SQLite" : "PostgreSQL";
}
