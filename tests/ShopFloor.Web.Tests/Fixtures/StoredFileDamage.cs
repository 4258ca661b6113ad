using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Files;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>A stored file changed behind the program's back, in the folder or in the database.</summary>
internal static class StoredFileDamage
{
    /// <summary>Turns one bit of the file's first byte; a second call mends it.</summary>
    public static async Task FlipBitAsync(this ShopHost shop, string hash)
    {
        var database = shop.Services.GetRequiredService<ShopDatabase>();
        if (database.Kind == DatabaseKind.Sqlite)
        {
            var path = Path.Combine(database.DataFolder, "files", hash[..2], hash);
            await File.WriteAllBytesAsync(
                path,
                Flipped(await File.ReadAllBytesAsync(path, TestContext.Current.CancellationToken)),
                TestContext.Current.CancellationToken
            );
            return;
        }

        await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            var chunks = db.Set<FileChunkRow>().Where(c => c.Hash == hash && c.Index == 0);
            var bytes = Flipped((await chunks.AsNoTracking().SingleAsync()).Bytes);
            return await chunks.ExecuteUpdateAsync(s => s.SetProperty(c => c.Bytes, bytes));
        });
    }

    private static byte[] Flipped(byte[] bytes)
    {
        bytes[0] ^= 1;
        return bytes;
    }
}
