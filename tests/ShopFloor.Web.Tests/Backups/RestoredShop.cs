using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Backups;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Backups;

/// <summary>The program started on what a backup of another shop gave back.</summary>
internal sealed class RestoredShop(
    ShopHost original,
    RestoreBackup.Request request,
    IDbContextFactory<ShopDbContext> contexts
) : ShopHost
{
    public override string Kind => original.Kind;

    /// <summary>What the restore said.</summary>
    public Outcome<RestoreBackup.Restored> Restored { get; private set; }

    protected override bool IsSetUp => false;

    protected override async Task<string?> NewConnectionAsync()
    {
        var connection = Kind == "postgres" ? await PostgresServer.NewDatabaseAsync() : null;
        var database = connection is null
            ? ShopDatabase.SqliteIn(Folder)
            : new ShopDatabase(DatabaseKind.Postgres, connection, Folder);
        Restored = await new RestoreBackup(database, contexts, Clock).RunAsync(request, CancellationToken.None);
        return connection;
    }
}
