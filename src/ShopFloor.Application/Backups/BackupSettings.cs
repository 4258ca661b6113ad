namespace ShopFloor.Application.Backups;

/// <summary>Where backups go and how, as the surroundings decide.</summary>
/// <param name="Folder">Absolute; made when the first one comes. Better on another disk than the data.</param>
/// <param name="IsDaily">Whether the program makes them by itself.</param>
/// <param name="PassphraseFile">A file whose first line locks those it makes by itself; null for none.</param>
public sealed record BackupSettings(string Folder, bool IsDaily = true, string? PassphraseFile = null)
{
    /// <exception cref="BackupException">There is no such file, or nothing in it.</exception>
    public async Task<string?> PassphraseAsync(CancellationToken ct) =>
        PassphraseFile is { } file ? await ReadPassphraseAsync(file, ct) : null;

    /// <summary>First line of a file.</summary>
    public static async Task<string> ReadPassphraseAsync(string file, CancellationToken ct)
    {
        try
        {
            using var reader = File.OpenText(file);
            return await reader.ReadLineAsync(ct) is { Length: >= ArchiveLock.ShortestPassphrase } line
                ? line
                : throw new BackupException(
                    $"The first line of the passphrase file has fewer than {ArchiveLock.ShortestPassphrase} characters."
                );
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The passphrase file cannot be read: {exception.Message}", exception);
        }
    }
}
