using System.Data;
using Npgsql;
using ShopFloor.Data;

namespace ShopFloor.Application.Backups;

/// <summary>A PostgreSQL database, copied by <c>pg_dump</c> in the same snapshot in which its facts are read.</summary>
internal sealed class PostgresDump(ShopDatabase database) : IDatabaseDump
{
    /// <summary>Tables only: the schema itself may belong to somebody else.</summary>
    private const string EmptySchema = """
        DO $$
        DECLARE one record;
        BEGIN
          FOR one IN SELECT tablename FROM pg_tables WHERE schemaname = 'public' LOOP
            EXECUTE format('DROP TABLE IF EXISTS public.%I CASCADE', one.tablename);
          END LOOP;
        END $$
        """;

    public async Task<DatabaseFacts> WriteAsync(string path, CancellationToken ct)
    {
        try
        {
            await using var connection = await OpenAsync(ct);
            await using var transaction = await connection.BeginTransactionAsync(IsolationLevel.RepeatableRead, ct);
            await using var export = new NpgsqlCommand("SELECT pg_export_snapshot()", connection, transaction);
            var snapshot = (string)(await export.ExecuteScalarAsync(ct))!;
            var facts = await DatabaseFacts.ReadAsync(connection, ct);
            await PostgresTools.RunAsync(
                "pg_dump",
                database.ConnectionString,
                ["--format=custom", "--no-owner", "--no-privileges", $"--snapshot={snapshot}", $"--file={path}"],
                ct
            );
            return facts;
        }
        catch (NpgsqlException exception)
        {
            throw new BackupException($"The database could not be copied: {exception.Message}", exception);
        }
    }

    public async Task<DatabaseFacts?> LookAsync(CancellationToken ct)
    {
        try
        {
            await using var connection = await OpenAsync(ct);
            return await DatabaseFacts.ReadAsync(connection, ct);
        }
        catch (PostgresException exception)
            when (exception.SqlState is PostgresErrorCodes.UndefinedTable or PostgresErrorCodes.UndefinedColumn)
        {
            return null;
        }
        catch (NpgsqlException exception)
        {
            throw new BackupException($"The database cannot be reached: {exception.Message}", exception);
        }
    }

    /// <summary>Its list of contents can be read; the content was compared by its hash before.</summary>
    public Task CheckAsync(string path, CancellationToken ct) =>
        PostgresTools.RunAsync("pg_restore", database.ConnectionString, ["--list", "--file=/dev/null", path], ct);

    public async Task<IAsyncDisposable> TakeAloneAsync(CancellationToken ct)
    {
        NpgsqlConnection.ClearAllPools();
        await using var connection = await OpenAsync(ct);
        await using var command = new NpgsqlCommand(
            "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'",
            connection
        );
        var others = (long)(await command.ExecuteScalarAsync(ct))!;
        return others == 0
            ? new Nothing()
            : throw new BackupException(
                $"The database is in use ({others} connections): stop all servers of this shop first, then restore."
            );
    }

    /// <summary>In one transaction all tables that are there go, also those that the archive does not know, and its own come: a restore after an upgrade leaves nothing of the newer program.</summary>
    public async Task RestoreAsync(string path, string putAside, CancellationToken ct)
    {
        var script = path + ".sql";
        await PostgresTools.RunAsync(
            "pg_restore",
            database.ConnectionString,
            ["--no-owner", "--no-privileges", $"--file={script}", path],
            ct
        );
        await PostgresTools.RunAsync(
            "psql",
            database.ConnectionString,
            [
                "--no-psqlrc",
                "--quiet",
                "--output=/dev/null",
                "--set=ON_ERROR_STOP=1",
                "--single-transaction",
                $"--command={EmptySchema}",
                $"--file={script}",
            ],
            ct
        );
    }

    private async Task<NpgsqlConnection> OpenAsync(CancellationToken ct)
    {
        var connection = new NpgsqlConnection(
            new NpgsqlConnectionStringBuilder(database.ConnectionString) { Pooling = false }.ToString()
        );
        try
        {
            await connection.OpenAsync(ct);
            return connection;
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    private sealed class Nothing : IAsyncDisposable
    {
        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
