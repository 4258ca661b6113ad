using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.Application.Backups;

/// <summary>A SQLite file, copied by <c>VACUUM INTO</c>: one reading transaction, while others write.</summary>
internal sealed class SqliteDump(ShopDatabase database) : IDatabaseDump
{
    private static readonly string[] Companions = ["", "-wal", "-shm"];

    private string Source => new SqliteConnectionStringBuilder(database.ConnectionString).DataSource;

    public async Task<DatabaseFacts> WriteAsync(string path, CancellationToken ct)
    {
        try
        {
            await using (var source = await OpenAsync(Source, SqliteOpenMode.ReadWrite, ct))
            {
                await using var command = source.CreateCommand();
                command.CommandText = "VACUUM INTO $path";
                command.Parameters.AddWithValue("$path", path);
                command.CommandTimeout = 0;
                await command.ExecuteNonQueryAsync(ct);
            }

            await CheckAsync(path, ct);
            await using var copy = await OpenAsync(path, SqliteOpenMode.ReadOnly, ct);
            return await DatabaseFacts.ReadAsync(copy, ct);
        }
        catch (SqliteException exception)
        {
            throw new BackupException($"The database could not be copied: {exception.Message}", exception);
        }
    }

    public async Task<DatabaseFacts?> LookAsync(CancellationToken ct)
    {
        if (!File.Exists(Source))
        {
            return null;
        }

        try
        {
            await using var connection = await OpenAsync(Source, SqliteOpenMode.ReadWrite, ct);
            return await DatabaseFacts.ReadAsync(connection, ct);
        }
        catch (SqliteException)
        {
            // Empty or beyond reading: what lies there is put aside all the same, never thrown away.
            return null;
        }
    }

    public async Task CheckAsync(string path, CancellationToken ct)
    {
        try
        {
            await using var copy = await OpenAsync(path, SqliteOpenMode.ReadOnly, ct);
            await using var command = copy.CreateCommand();
            command.CommandTimeout = 0;
            command.CommandText = "PRAGMA integrity_check";
            if (await command.ExecuteScalarAsync(ct) is not "ok")
            {
                throw new BackupException("The copy of the database is damaged.");
            }

            command.CommandText = "PRAGMA foreign_key_check";
            await using var rows = await command.ExecuteReaderAsync(ct);
            if (await rows.ReadAsync(ct))
            {
                throw new BackupException(
                    $"The copy of the database has rows that refer to nothing, in the table {rows.GetString(0)}."
                );
            }
        }
        catch (SqliteException exception)
        {
            throw new BackupException($"The copy of the database cannot be read: {exception.Message}", exception);
        }
    }

    public Task<IAsyncDisposable> TakeAloneAsync(CancellationToken ct) =>
        Task.FromResult<IAsyncDisposable>(RunningLock.TakeAlone(database.DataFolder));

    public Task RestoreAsync(string path, string putAside, CancellationToken ct)
    {
        foreach (var old in Companions.Select(c => Source + c).Where(File.Exists))
        {
            File.Move(old, Path.Combine(putAside, Path.GetFileName(old)));
        }

        File.Move(path, Source);
        return Task.CompletedTask;
    }

    private static async Task<SqliteConnection> OpenAsync(string file, SqliteOpenMode mode, CancellationToken ct)
    {
        var connection = new SqliteConnection(
            new SqliteConnectionStringBuilder
            {
                DataSource = file,
                Mode = mode,
                Pooling = false,
                DefaultTimeout = 30,
            }.ToString()
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
}
