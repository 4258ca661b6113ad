using System.IO.Compression;
using System.Security.Cryptography;

namespace ShopFloor.Application.Backups;

/// <summary>An archive: a ZIP file (PKWARE APPNOTE) with the database, the files beside it and a manifest with the length and hash of each.</summary>
internal static class BackupArchive
{
    /// <summary>Writes the archive; the manifest comes last, when all hashes are known.</summary>
    /// <param name="contents">Entry's name and the file it is read from, or null where that is gone.</param>
    /// <param name="manifest">Makes the manifest from the entries and the names of what is lost.</param>
    public static async Task<BackupManifest> WriteAsync(
        Stream to,
        IEnumerable<(string Name, string Path, string? Hash)> contents,
        Func<IReadOnlyList<BackupManifest.Entry>, IReadOnlyList<string>, BackupManifest> manifest,
        CancellationToken ct
    )
    {
        List<BackupManifest.Entry> entries = [];
        List<string> lost = [];
        await using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        foreach (var (name, path, hash) in contents)
        {
            // Compared before: an entry that was begun cannot be taken back.
            if (!File.Exists(path) || (hash is not null && await HashOfAsync(path, ct) != hash))
            {
                lost.Add(name);
                continue;
            }

            // Photos are packed already.
            var entry = zip.CreateEntry(name, hash is null ? CompressionLevel.Fastest : CompressionLevel.NoCompression);
            await using var from = OpenRead(path);
            await using var into = await entry.OpenAsync(ct);
            var (length, sha256) = await CopyAsync(from, into, ct);
            entries.Add(new(name, length, sha256));
        }

        var made = manifest(entries, lost);
        await using var last = await zip.CreateEntry(BackupManifest.EntryName).OpenAsync(ct);
        await last.WriteAsync(made.Write(), ct);
        return made;
    }

    /// <summary>Reads the manifest alone.</summary>
    /// <exception cref="BackupException">It is no archive of this program.</exception>
    public static async Task<BackupManifest> ReadManifestAsync(ZipArchive zip, CancellationToken ct)
    {
        if (zip.GetEntry(BackupManifest.EntryName) is not { Length: <= BackupManifest.LargestBytes } entry)
        {
            throw new BackupException("This is no archive of a ShopFloor shop: name a file that this program made.");
        }

        using var content = new MemoryStream();
        await using var from = await entry.OpenAsync(ct);
        await from.CopyToAsync(content, ct);
        return BackupManifest.Read(content.ToArray());
    }

    /// <summary>Opens a ZIP file for reading.</summary>
    /// <exception cref="BackupException">It is none, or it was cut off.</exception>
    public static ZipArchive Open(Stream file)
    {
        try
        {
            return new ZipArchive(file, ZipArchiveMode.Read, leaveOpen: true);
        }
        catch (InvalidDataException exception)
        {
            throw new BackupException(
                "The archive is damaged or cut off: it cannot be opened. Take another backup.",
                exception
            );
        }
    }

    /// <summary>Writes all entries under a folder, each compared with the manifest; names are taken from the manifest's own pattern only.</summary>
    /// <exception cref="BackupException">Something is missing, too much, or not what was written.</exception>
    public static async Task UnpackAsync(ZipArchive zip, BackupManifest manifest, string folder, CancellationToken ct)
    {
        var known = manifest
            .Entries.Select(e => e.Name)
            .Append(BackupManifest.EntryName)
            .ToHashSet(StringComparer.Ordinal);
        if (zip.Entries.FirstOrDefault(e => !known.Contains(e.FullName)) is { } stranger)
        {
            throw new BackupException(
                $"The archive holds something that its list does not name: {Shown(stranger.FullName)}."
            );
        }

        foreach (var entry in manifest.Entries)
        {
            var path = Path.Combine(folder, CheckedName(entry.Name, manifest));
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            try
            {
                await using var from =
                    zip.GetEntry(entry.Name) is { } found && found.Length == entry.Length
                        ? await found.OpenAsync(ct)
                        : throw new BackupException(
                            $"The archive is damaged: {Shown(entry.Name)} is missing or cut off. Take another backup."
                        );
                await using var into = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
                var (_, sha256) = await CopyAsync(from, into, ct);
                into.Flush(flushToDisk: true);
                if (sha256 != entry.Sha256)
                {
                    throw new BackupException(
                        $"The archive is damaged: {Shown(entry.Name)} is not what was written. Take another backup."
                    );
                }
            }
            catch (InvalidDataException exception)
            {
                throw new BackupException(
                    $"The archive is damaged: {Shown(entry.Name)} cannot be read. Take another backup.",
                    exception
                );
            }
        }
    }

    /// <summary>Name of the entry of a stored file: under its hash, as in the data folder.</summary>
    public static string NameOf(string hash) => $"{BackupManifest.FilesFolder}{hash[..2]}/{hash}";

    /// <summary>Nothing of an archive gets out of the folder it is unpacked to.</summary>
    private static string CheckedName(string name, BackupManifest manifest) =>
        name == BackupManifest.DatabaseEntry(manifest.Database)
        || (name.Split('/') is ["files", _, { } hash] && Files.FileHash.IsHash(hash) && name == NameOf(hash))
            ? name
            : throw new BackupException($"The archive names something that is no part of a shop: {Shown(name)}.");

    private static string Shown(string name) => new([.. name.Take(80).Select(c => char.IsControl(c) ? '?' : c)]);

    private static async Task<string> HashOfAsync(string path, CancellationToken ct)
    {
        await using var from = OpenRead(path);
        return Convert.ToHexStringLower(await SHA256.HashDataAsync(from, ct));
    }

    private static FileStream OpenRead(string path) =>
        new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);

    private static async Task<(long Length, string Sha256)> CopyAsync(Stream from, Stream to, CancellationToken ct)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[128 * 1024];
        long length = 0;
        while (await from.ReadAsync(buffer, ct) is var read and > 0)
        {
            hash.AppendData(buffer, 0, read);
            await to.WriteAsync(buffer.AsMemory(0, read), ct);
            length += read;
        }

        return (length, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }
}
