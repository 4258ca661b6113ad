using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>A database put back from a backup.</summary>
public sealed class RestoredDatabaseTests
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_copy_made_while_the_program_ran_opens_again()
    {
        var (from, to) = (Directory.CreateTempSubdirectory(), Directory.CreateTempSubdirectory());
        try
        {
            await using (var db = Open(from.FullName))
            {
                await db.Database.EnsureCreatedAsync(Ct);
                var copy = Path.Combine(to.FullName, "shopfloor.db");
                await db.Database.ExecuteSqlAsync($"VACUUM INTO {copy}", Ct);
            }

            await using var restored = Open(to.FullName);
            // Looks first whether there is a database, by a connection that may only read.
            Assert.False(await restored.Database.EnsureCreatedAsync(Ct));
            Assert.Equal("wal", (await restored.Database.SqlQuery<string>($"PRAGMA journal_mode").ToListAsync(Ct))[0]);
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            from.Delete(recursive: true);
            to.Delete(recursive: true);
        }
    }

    private static ShopDbContext Open(string folder)
    {
        var options = new DbContextOptionsBuilder<ShopDbContext>();
        ShopDatabase.SqliteIn(folder).Configure(options);
        return new ShopDbContext(options.Options);
    }
}
