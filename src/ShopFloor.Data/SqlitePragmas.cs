using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ShopFloor.Data;

/// <summary>Durable by default: every commit reaches the disk, foreign keys hold, a busy database is waited for.</summary>
internal sealed class SqlitePragmas : DbConnectionInterceptor
{
    private const string Pragmas =
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA busy_timeout=5000; PRAGMA foreign_keys=ON;";

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData)
    {
        using var command = connection.CreateCommand();
        command.CommandText = Pragmas;
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
            command.CommandText = Pragmas;
            await command.ExecuteNonQueryAsync(cancellationToken);
        }
    }
}
