using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace ShopFloor.Data;

public enum DatabaseKind
{
    Sqlite,
    Postgres,
}

/// <summary>Which database, and where.</summary>
/// <param name="Kind">SQLite by default; PostgreSQL for several servers.</param>
/// <param name="ConnectionString">Provider's own form.</param>
/// <param name="DataFolder">Absolute path; holds the SQLite file and, with SQLite, the photos.</param>
public sealed record ShopDatabase(DatabaseKind Kind, string ConnectionString, string DataFolder)
{
    public const string SqliteMigrations = "ShopFloor.Data.Sqlite";
    public const string PostgresMigrations = "ShopFloor.Data.PostgreSql";

    public static ShopDatabase SqliteIn(string folder) =>
        new(
            DatabaseKind.Sqlite,
            new SqliteConnectionStringBuilder
            {
                DataSource = Path.Combine(folder, "shopfloor.db"),
                ForeignKeys = true,
                DefaultTimeout = 10,
            }.ToString(),
            folder
        );

    public void Configure(DbContextOptionsBuilder options)
    {
        if (Kind == DatabaseKind.Sqlite)
        {
            options
                .UseSqlite(ConnectionString, o => o.MigrationsAssembly(SqliteMigrations))
                .AddInterceptors(new SqlitePragmas());
        }
        else
        {
            options.UseNpgsql(ConnectionString, o => o.MigrationsAssembly(PostgresMigrations));
        }
    }

    /// <summary>True where the exception says that a lock was not had in time.</summary>
    public static bool IsBusy(Exception exception) =>
        Innermost(exception) switch
        {
            SqliteException sqlite => sqlite.SqliteErrorCode is 5 or 6,
            PostgresException postgres => postgres.SqlState
                is PostgresErrorCodes.LockNotAvailable
                    or PostgresErrorCodes.DeadlockDetected,
            _ => false,
        };

    /// <summary>True where the exception says that a unique value exists already.</summary>
    public static bool IsDuplicate(Exception exception) =>
        Innermost(exception) switch
        {
            SqliteException sqlite => sqlite.SqliteExtendedErrorCode is 2067 or 1555,
            PostgresException postgres => postgres.SqlState == PostgresErrorCodes.UniqueViolation,
            _ => false,
        };

    /// <summary>True where the database cannot be reached, or is just being shut down or started. Whether a commit that was under way came through is then not known.</summary>
    public static bool IsAway(Exception exception) =>
        Chain(exception)
            .Any(e =>
                e switch
                {
                    PostgresException postgres => postgres.SqlState
                        is PostgresErrorCodes.AdminShutdown
                            or PostgresErrorCodes.CrashShutdown
                            or PostgresErrorCodes.CannotConnectNow
                            or PostgresErrorCodes.TooManyConnections,
                    // Not an answer of the database, but the want of one.
                    NpgsqlException => true,
                    // The connection broke between two steps of the same command.
                    InvalidOperationException => e.Source == nameof(Npgsql),
                    _ => false,
                }
            );

    /// <summary>True where nothing more can be stored, because the disk is full.</summary>
    public static bool IsFull(Exception exception) =>
        Chain(exception)
            .Any(e =>
                e switch
                {
                    SqliteException sqlite => sqlite.SqliteErrorCode == 13,
                    PostgresException postgres => postgres.SqlState == PostgresErrorCodes.DiskFull,
                    // "No space left on device" and "Disk quota exceeded" (errno of Linux).
                    IOException io => (io.HResult & 0xFFFF) is 28 or 122,
                    _ => false,
                }
            );

    private static IEnumerable<Exception> Chain(Exception? exception)
    {
        for (; exception is not null; exception = exception.InnerException)
        {
            yield return exception;
        }
    }

    private static Exception Innermost(Exception exception) =>
        exception is DbUpdateException { InnerException: { } inner } ? Innermost(inner) : exception;
}
