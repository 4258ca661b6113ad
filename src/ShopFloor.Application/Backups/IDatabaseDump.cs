using ShopFloor.Data;

namespace ShopFloor.Application.Backups;

/// <summary>Copies a whole database while it is in use, and puts such a copy in its place.</summary>
internal interface IDatabaseDump
{
    /// <summary>Writes the database as it was at one moment to a new file and tells what it was then.</summary>
    /// <exception cref="BackupException">It could not be copied.</exception>
    Task<DatabaseFacts> WriteAsync(string path, CancellationToken ct);

    /// <summary>Facts of the database that is there now; null where there is none or an empty one.</summary>
    Task<DatabaseFacts?> LookAsync(CancellationToken ct);

    /// <summary>Whether a copy is whole; nothing is changed.</summary>
    /// <exception cref="BackupException">It is not, with the reason.</exception>
    Task CheckAsync(string path, CancellationToken ct);

    /// <summary>Refuses while somebody else has the database open.</summary>
    /// <exception cref="BackupException">Somebody has.</exception>
    Task<IAsyncDisposable> TakeAloneAsync(CancellationToken ct);

    /// <summary>Puts the copy in the place of the database: all of it or nothing.</summary>
    /// <param name="path">A copy that was checked; it may be moved away.</param>
    /// <param name="putAside">An existing folder for what was there before; not used where the database server keeps nothing in files of ours.</param>
    Task RestoreAsync(string path, string putAside, CancellationToken ct);
}

internal static class DatabaseDumps
{
    public static IDatabaseDump Of(ShopDatabase database) =>
        database.Kind == DatabaseKind.Sqlite ? new SqliteDump(database) : new PostgresDump(database);
}
