using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>The data of a shop that was just set up, made once in a test run for each kind of database.</summary>
/// <param name="Folder">Where its SQLite file lies.</param>
/// <param name="Connection">Its PostgreSQL database, or null with SQLite.</param>
internal sealed record ShopBeginning(string Folder, string? Connection)
{
    private const string Database = "shopfloor.db";

    public static async Task<ShopBeginning> MakeAsync(string kind)
    {
        await using var shop = new NewShop(kind);
        await shop.InitializeAsync();
        return await shop.BeginAsync();
    }

    /// <summary>Keeps the data of a running shop.</summary>
    public static async Task<ShopBeginning> OfAsync(string folder, string? connection)
    {
        if (connection is not null)
        {
            return new(folder, connection);
        }

        var kept = Directory.CreateTempSubdirectory("shopfloor-beginning").FullName;
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(kept, recursive: true);
        await using var open = new SqliteConnection(ShopDatabase.SqliteIn(folder).ConnectionString);
        await open.OpenAsync();
        await using var copy = open.CreateCommand();
        copy.CommandText = "VACUUM INTO $to";
        copy.Parameters.AddWithValue("$to", Path.Combine(kept, Database));
        await copy.ExecuteNonQueryAsync();
        return new(kept, null);
    }

    /// <summary>Gives another shop the same data; its connection string, or null with SQLite.</summary>
    public async Task<string?> CopyToAsync(string folder)
    {
        if (Connection is not null)
        {
            return await PostgresServer.NewDatabaseAsync(Connection);
        }

        File.Copy(Path.Combine(Folder, Database), Path.Combine(folder, Database));
        return null;
    }

    /// <summary>The first shop of its kind, not yet set up.</summary>
    private sealed class NewShop(string kind) : ShopHost
    {
        public override string Kind => kind;

        protected override bool IsSetUp => false;

        protected override async Task<string?> NewConnectionAsync() =>
            kind == "postgres" ? await PostgresServer.NewDatabaseAsync() : null;
    }
}
