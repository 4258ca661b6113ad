using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>A database as an earlier program made it, with the data of a shop.</summary>
internal static class EarlierDatabase
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>Names of all migrations, oldest first, without their dates.</summary>
    public static List<string> Migrations(ShopDatabase database)
    {
        using var db = Open(database);
        return [.. db.Database.GetMigrations().Select(NameOf)];
    }

    /// <summary>Takes a database back to what the program was that knew no later migration; the tables that came later go with their data.</summary>
    public static async Task TakeBackAsync(ShopDatabase database, string migration)
    {
        await using var db = Open(database);
        await db.GetService<IMigrator>().MigrateAsync(migration, Ct);
        await CloseAsync(db);
    }

    /// <summary>A new, empty database of the program that knew no later migration.</summary>
    public static Task MakeAsync(ShopDatabase database, string migration) => TakeBackAsync(database, migration);

    /// <summary>Every table with its columns, one a line, to compare two databases.</summary>
    public static async Task<List<string>> LayoutAsync(ShopDatabase database)
    {
        await using var db = Open(database);
        var layout = await db
            .Database.SqlQueryRaw<string>(
                database.Kind == DatabaseKind.Sqlite
                    ? "SELECT m.name || ' ' || coalesce(m.sql, '') AS \"Value\" FROM sqlite_master m WHERE m.name NOT LIKE 'sqlite_%' ORDER BY 1"
                    : "SELECT table_name || ' ' || column_name || ' ' || data_type || ' ' || is_nullable AS \"Value\" FROM information_schema.columns WHERE table_schema = 'public' ORDER BY 1"
            )
            .ToListAsync(Ct);
        await CloseAsync(db);
        return layout.ConvertAll(InAnyOrder);
    }

    /// <summary>SQLite makes a table anew to take a column out of it, and orders its columns differently then.</summary>
    private static string InAnyOrder(string line) =>
        line.Contains(" CREATE TABLE ", StringComparison.Ordinal)
            ? string.Join(
                '\n',
                line.Split(
                        [',', '(', ')', '\n'],
                        StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
                    )
                    .Order(StringComparer.Ordinal)
            )
            : line;

    private static ShopDbContext Open(ShopDatabase database)
    {
        var options = new DbContextOptionsBuilder<ShopDbContext>();
        database.Configure(options);
        return new ShopDbContext(options.Options);
    }

    private static async Task CloseAsync(ShopDbContext db)
    {
        // A pooled connection would go on reading a file that others replace.
        if (db.Database.GetDbConnection() is SqliteConnection connection)
        {
            await connection.CloseAsync();
            SqliteConnection.ClearPool(connection);
        }
    }

    private static string NameOf(string id) => id[(id.IndexOf('_', StringComparison.Ordinal) + 1)..];
}
