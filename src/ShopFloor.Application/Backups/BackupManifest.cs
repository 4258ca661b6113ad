using System.Text.Json;
using ShopFloor.Data;

namespace ShopFloor.Application.Backups;

/// <summary>What an archive says of itself; its entry <see cref="EntryName"/> is read before anything else of it.</summary>
/// <param name="Format">Layout of the archive: <see cref="CurrentFormat"/>.</param>
/// <param name="Program">Version of the program that made it, for people.</param>
/// <param name="Shop">Id of the shop; null for a database without one.</param>
/// <param name="Migrations">Those the database has had, oldest first: a program that does not know one of them cannot read it.</param>
/// <param name="Events">Number of the newest line of the history, 0 without any, and its hash.</param>
/// <param name="Lost">Files that the database names and that were not there, or not what they should be; known before they are missed.</param>
public sealed record BackupManifest(
    int Format,
    string Program,
    DateTimeOffset MadeAt,
    DatabaseKind Database,
    Guid? Shop,
    IReadOnlyList<string> Migrations,
    long Events,
    string? LastHash,
    IReadOnlyList<BackupManifest.Entry> Entries,
    IReadOnlyList<string> Lost
)
{
    public const int CurrentFormat = 1;
    public const string EntryName = "manifest.json";
    public const string FilesFolder = "files/";

    /// <summary>More than any shop has; a manifest that is larger is none.</summary>
    public const int LargestBytes = 64 * 1024 * 1024;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new System.Text.Json.Serialization.JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    /// <param name="Sha256">64 hex digits over the content.</param>
    public sealed record Entry(string Name, long Length, string Sha256);

    /// <summary>Name of the database's entry.</summary>
    public static string DatabaseEntry(DatabaseKind kind) =>
        kind == DatabaseKind.Sqlite ? "database.sqlite" : "database.pgdump";

    public byte[] Write() => JsonSerializer.SerializeToUtf8Bytes(this, Json);

    /// <exception cref="BackupException">It is not a manifest of this layout.</exception>
    public static BackupManifest Read(ReadOnlySpan<byte> utf8)
    {
        try
        {
            var manifest = JsonSerializer.Deserialize<BackupManifest>(utf8, Json);
            return manifest switch
            {
                { Format: not CurrentFormat } => throw new BackupException(
                    $"The archive has layout {manifest.Format}; this program reads layout {CurrentFormat}. Restore it with the program that made it."
                ),
                { Entries: not null, Migrations: not null, Lost: not null } => manifest,
                _ => throw new BackupException("The archive's list of contents is not whole."),
            };
        }
        catch (JsonException exception)
        {
            throw new BackupException("The archive's list of contents cannot be read.", exception);
        }
    }
}
