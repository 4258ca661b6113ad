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

    private static Exception Innermost(Exception exception) =>
        exception is DbUpdateException { InnerException: { } inner } ? Innermost(inner) : exception;
}
