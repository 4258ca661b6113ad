using System.Globalization;
using ShopFloor.Data;

namespace ShopFloor.Application.Backups;

/// <summary>Writes one archive of the shop while it is in use. It appears under its name only when it is whole and on the disk.</summary>
public sealed class BackupWriter(ShopDatabase database, TimeProvider clock)
{
    internal const string Prefix = "shopfloor-";
    internal const string Stamp = "yyyyMMdd'T'HHmmss'Z'";
    private const string WorkPrefix = ".making-";
    private const string Ending = ".zip";

    /// <summary>No backup takes so long: what is older was cut off with its program.</summary>
    internal static readonly TimeSpan Longest = TimeSpan.FromHours(6);
    private const string LockedEnding = ".zip.locked";

    /// <param name="Path">Where it lies.</param>
    public sealed record Made(string Path, long Bytes, BackupManifest Manifest);

    /// <summary>A name that tells when.</summary>
    public static string NameFor(DateTimeOffset at, bool isLocked, string kind = "") =>
        $"{Prefix}{kind}{at.UtcDateTime.ToString(Stamp, CultureInfo.InvariantCulture)}{(isLocked ? LockedEnding : Ending)}";

    /// <summary>When an archive of this name was made; null for files that are none of those made daily or on request.</summary>
    public static DateTimeOffset? MadeAt(string fileName)
    {
        var name = fileName.EndsWith(LockedEnding, StringComparison.Ordinal) ? fileName[..^".locked".Length] : fileName;
        return
            name.StartsWith(Prefix, StringComparison.Ordinal)
            && name.EndsWith(Ending, StringComparison.Ordinal)
            && DateTimeOffset.TryParseExact(
                name[Prefix.Length..^Ending.Length],
                Stamp,
                CultureInfo.InvariantCulture,
                DateTimeStyles.AssumeUniversal,
                out var at
            )
            ? at
            : null;
    }

    /// <param name="file">Where it shall lie; nothing may be there yet.</param>
    /// <param name="passphrase">Locks it; null leaves it open.</param>
    /// <exception cref="BackupException">It could not be made; nothing is left of the attempt.</exception>
    public async Task<Made> WriteAsync(string file, string? passphrase, CancellationToken ct)
    {
        if (passphrase is { Length: < ArchiveLock.ShortestPassphrase })
        {
            throw new BackupException($"A passphrase has at least {ArchiveLock.ShortestPassphrase} characters.");
        }

        var folder = Path.GetDirectoryName(Path.GetFullPath(file))!;
        var work = Path.Combine(folder, $"{WorkPrefix}{Guid.CreateVersion7(clock.GetUtcNow()):N}");
        try
        {
            MakeOwn(work);
            LetLeftoversGo(folder);
            if (File.Exists(file))
            {
                throw new BackupException($"There is a file {file} already: name another.");
            }

            var archive = Path.Combine(work, "archive");
            var manifest = await PackAsync(work, archive, ct);
            if (passphrase is not null)
            {
                var open = archive;
                archive = Path.Combine(work, "locked");
                await using var from = File.OpenRead(open);
                await using var to = New(archive);
                await ArchiveLock.LockAsync(from, to, passphrase, ct);
                to.Flush(flushToDisk: true);
            }

            File.Move(archive, file, overwrite: false);
            return new(file, new FileInfo(file).Length, manifest);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            var said = exception.Message.Replace(work, folder, StringComparison.Ordinal);
            throw new BackupException(
                $"The archive could not be written: {said} Make room, or name a folder that can be written (SHOPFLOOR_BACKUPS, or --to), and back up again.",
                exception
            );
        }
        finally
        {
            Remove(work);
        }
    }

    /// <summary>A copy of customers' data that nobody will finish does not stay.</summary>
    private void LetLeftoversGo(string folder)
    {
        var dead = (clock.GetUtcNow() - Longest).UtcDateTime;
        foreach (
            var old in Directory
                .GetDirectories(folder, $"{WorkPrefix}*")
                .Where(d => Directory.GetLastWriteTimeUtc(d) < dead)
        )
        {
            Remove(old);
        }
    }

    private async Task<BackupManifest> PackAsync(string work, string archive, CancellationToken ct)
    {
        var copy = Path.Combine(work, "database");
        var madeAt = clock.GetUtcNow();
        var facts = await DatabaseDumps.Of(database).WriteAsync(copy, ct);
        List<(string, string, string?)> contents = [(BackupManifest.DatabaseEntry(database.Kind), copy, null)];
        if (database.Kind == DatabaseKind.Sqlite)
        {
            contents.AddRange(
                facts
                    .Files.Select(hash => (Name: BackupArchive.NameOf(hash), Hash: hash))
                    .Select(f => (f.Name, Path.Combine(database.DataFolder, f.Name), (string?)f.Hash))
            );
        }

        await using var to = New(archive);
        var manifest = await BackupArchive.WriteAsync(
            to,
            contents,
            (entries, lost) =>
                new BackupManifest(
                    BackupManifest.CurrentFormat,
                    typeof(BackupWriter).Assembly.GetName().Version?.ToString(3) ?? "",
                    madeAt,
                    database.Kind,
                    facts.Shop,
                    facts.Migrations,
                    facts.Events,
                    facts.LastHash,
                    entries,
                    lost
                ),
            ct
        );
        to.Flush(flushToDisk: true);
        return manifest;
    }

    /// <summary>For the owner of the process only: names, addresses and signatures of customers are in there.</summary>
    private static FileStream New(string path)
    {
        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.ReadWrite,
            BufferSize = 128 * 1024,
        };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        return new FileStream(path, options);
    }

    /// <summary>Makes a folder that nobody but the owner of the process looks into.</summary>
    internal static void MakeOwn(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
        }
        else
        {
            Directory.CreateDirectory(
                folder,
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute
            );
        }
    }

    internal static void Remove(string folder)
    {
        try
        {
            Directory.Delete(folder, recursive: true);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            // What is left of it lies under a name that nothing reads.
        }
    }
}
