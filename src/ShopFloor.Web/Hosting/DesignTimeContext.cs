using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>Used by <c>dotnet ef</c> only: <c>-- sqlite</c> or <c>-- postgres</c> chooses the provider.</summary>
public sealed class DesignTimeContext : IDesignTimeDbContextFactory<ShopDbContext>
{
    public ShopDbContext CreateDbContext(string[] args)
    {
        var database = args is ["postgres", ..]
            ? new ShopDatabase(DatabaseKind.Postgres, "Host=localhost;Database=design", ".")
            : ShopDatabase.SqliteIn(".");
        var options = new DbContextOptionsBuilder<ShopDbContext>();
        database.Configure(options);
        options.UseApplicationServiceProvider(
            new ServiceCollection().Configure<IdentityOptions>(ServiceSetup.ConfigureStores).BuildServiceProvider()
        );
        return new ShopDbContext(options.Options);
    }
}
