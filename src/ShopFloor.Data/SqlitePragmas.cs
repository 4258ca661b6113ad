using System.Data.Common;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ShopFloor.Data;

/// <summary>Durable by default: every commit reaches the disk, foreign keys hold, a busy database is waited for.</summary>
internal sealed class SqlitePragmas : DbConnectionInterceptor
{
    private const string Pragmas = "PRAGMA synchronous=FULL; PRAGMA busy_timeout=5000; PRAGMA foreign_keys=ON;";

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
    {
        using var command = connection.CreateCommand();
        command.CommandText = PragmasOf(connection);
        command.ExecuteNonQuery();
    }

    public override async Task ConnectionOpenedAsync(
        DbConnection connection,
        ConnectionEndEventData eventData,
        CancellationToken cancellationToken = default
    )
    {
        var command = connection.CreateCommand();
        await using (command)
        {
            command.CommandText = PragmasOf(connection);
            await command.ExecuteNonQueryAsync(cancellationToken);
        }
    }

    /// <summary>A copy made by a backup is not in WAL mode, and the look whether the database exists opens it for reading only: what cannot be changed then is left to the next connection.</summary>
    private static string PragmasOf(DbConnection connection) =>
        new SqliteConnectionStringBuilder(connection.ConnectionString).Mode == SqliteOpenMode.ReadOnly
            ? Pragmas
            : "PRAGMA journal_mode=WAL; " + Pragmas;
}
