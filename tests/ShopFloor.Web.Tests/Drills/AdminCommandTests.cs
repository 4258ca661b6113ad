using System.IO.Compression;
using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>The real program from the command line.</summary>
public sealed class AdminCommandTests
{
    [Fact]
    public async Task Admin_commands_print_results_alone_and_refuse_with_one_sentence()
    {
        await using var server = new RealServer(null);
        var noShop = await server.AdminAsync(
            ["owner", "create", "--email", "a@shop.example", "--name", "A"],
            "a long password"
        );
        Assert.Equal(2, noShop.Code);
        Assert.Equal("There is no shop yet: create the shop first.", noShop.Error.Trim());
        Assert.Empty(noShop.Out);

        var bad = await server.AdminAsync([
            "shop",
            "create",
            "--name",
            "S",
            "--currency",
            "euro",
            "--time-zone",
            "Mars/Base",
            "--length-unit",
            "mm",
        ]);
        Assert.Equal(2, bad.Code);
        Assert.Contains("ISO 4217", bad.Error, StringComparison.Ordinal);
        Assert.Contains("IANA", bad.Error, StringComparison.Ordinal);

        var unknown = await server.AdminAsync(["dance"]);
        Assert.Equal(2, unknown.Code);

        server.Set("SHOPFLOOR_DATABASE", "oracle");
        var wrong = await server.AdminAsync(["migrate"]);
        Assert.NotEqual(0, wrong.Code);
        Assert.Equal("SHOPFLOOR_DATABASE is 'oracle', but must be sqlite or postgres.", wrong.Error.Trim());
    }

    [Fact]
    public async Task A_database_is_backed_up_before_a_newer_program_changes_it_and_not_changed_where_that_fails()
    {
        await using var server = new RealServer(null);
        Assert.Equal(0, (await server.AdminAsync(["migrate"])).Code);
        var backups = Path.Combine(server.Folder, "backups");
        Assert.False(Directory.Exists(backups), "A new database has nothing to lose.");
        await EarlierDatabase.TakeBackAsync(server.Database, "Initial");

        var wrong = Path.Combine(server.Folder, "a-file");
        await File.WriteAllTextAsync(wrong, "", TestContext.Current.CancellationToken);
        server.Set("SHOPFLOOR_BACKUPS", Path.Combine(wrong, "below"));
        var refused = await server.AdminAsync(["migrate"]);
        Assert.Equal(2, refused.Code);
        Assert.Contains("was not brought up to date", refused.Error, StringComparison.Ordinal);

        server.Set("SHOPFLOOR_BACKUPS", backups);
        var upgraded = await server.AdminAsync(["migrate"]);
        Assert.Equal(0, upgraded.Code);
        var archive = Assert.Single(Directory.GetFiles(backups));
        Assert.StartsWith("shopfloor-before-upgrade-", Path.GetFileName(archive), StringComparison.Ordinal);
        Assert.Contains(archive, upgraded.Error, StringComparison.Ordinal);
        using var zip = ZipFile.OpenRead(archive);
        Assert.NotNull(zip.GetEntry("database.sqlite"));
    }
}
