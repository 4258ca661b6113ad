using System.Data.Common;
using System.Globalization;

namespace ShopFloor.Application.Backups;

/// <summary>What a database says of itself. Read in plain SQL, because before an upgrade it is not yet what this program's model describes.</summary>
internal sealed record DatabaseFacts(
    IReadOnlyList<string> Migrations,
    Guid? Shop,
    long Events,
    string? LastHash,
    IReadOnlyList<string> Files
)
{
    private const string Ids = """SELECT "Id" FROM "Shops" LIMIT 1""";
    private const string Newest = """SELECT "Sequence", "Hash" FROM "Events" ORDER BY "Sequence" DESC LIMIT 1""";

    public static async Task<DatabaseFacts> ReadAsync(DbConnection connection, CancellationToken ct)
    {
        var shop = await TextsAsync(connection, Ids, ct);
        var newest = await TextsAsync(connection, Newest, ct);
        return new(
            await TextsAsync(
                connection,
                """SELECT "MigrationId" FROM "__EFMigrationsHistory" ORDER BY "MigrationId" """,
                ct
            ),
            shop is [var id] ? Guid.Parse(id) : null,
            newest is [var number, _] ? long.Parse(number, CultureInfo.InvariantCulture) : 0,
            newest is [_, var hash] ? hash : null,
            await TextsAsync(connection, """SELECT "Hash" FROM "StoredFiles" ORDER BY "Hash" """, ct)
        );
    }

    /// <summary>All columns of all rows, one after another.</summary>
    private static async Task<IReadOnlyList<string>> TextsAsync(
        DbConnection connection,
        string sql,
        CancellationToken ct
    )
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await using var reader = await command.ExecuteReaderAsync(ct);
        List<string> texts = [];
        while (await reader.ReadAsync(ct))
        {
            for (var column = 0; column < reader.FieldCount; column++)
            {
                texts.Add(Convert.ToString(reader.GetValue(column), CultureInfo.InvariantCulture)!);
            }
        }

        return texts;
    }
}
