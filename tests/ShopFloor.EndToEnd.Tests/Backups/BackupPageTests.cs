using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Backups;

public sealed class BackupPageTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task The_owner_makes_a_backup_and_sees_that_it_is_there()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Phone);
        await page.OpenLiveAsync("/settings/backups");
        await page.GetByRole(AriaRole.Button, new() { Name = "Back up now" }).ClickAsync();

        var made = page.GetByRole(AriaRole.Cell)
            .Filter(new() { HasTextRegex = new Regex(@"✓ shopfloor-\d{8}T\d{6}Z\.zip on ") });
        await Assertions.Expect(made.First).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByTestId("backup-standing")).ToContainTextAsync("just now");
        Assert.NotEmpty(Directory.GetFiles(Path.Combine(shop.Folder, "backups"), "shopfloor-*.zip"));
        Assert.Empty(await page.BarriersAsync());
        await FitsAsync(page);

        await page.OpenLiveAsync("/settings/server");
        await Assertions.Expect(page.GetByTestId("checks")).ToContainTextAsync("Backup: There is a fresh one.");
        Assert.Empty(await page.BarriersAsync());
        await FitsAsync(page);
        await page.Context.CloseAsync();
    }

    private static async Task FitsAsync(IPage page) =>
        Assert.True(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
            "The page is wider than the phone."
        );
}
