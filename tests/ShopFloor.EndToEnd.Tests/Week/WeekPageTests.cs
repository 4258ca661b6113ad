using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Week;

/// <summary>The owner's week in a browser: pictures with their tables, and the wish to get it by mail.</summary>
public sealed class WeekPageTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task Pictures_open_to_their_tables_and_the_wish_for_the_mail_is_kept()
    {
        var desk = await DeskJob.AtAsync(shop);
        await desk.OpenAsync("Runa Vik");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await page.OpenLiveAsync("/week");

        await Expect(page.Locator("figure svg[role=img]").First)
            .ToHaveAttributeAsync("aria-label", new System.Text.RegularExpressions.Regex("in hand"));
        var flow = page.GetByRole(AriaRole.Region, new() { Name = "Flow of the last 12 weeks as a table" });
        await Expect(flow).ToBeHiddenAsync();
        await page.GetByText("Flow of the last 12 weeks as a table").ClickAsync();
        await Expect(flow.GetByRole(AriaRole.Row)).ToHaveCountAsync(13);
        await page.GetByText("Load of the coming weeks as a table").ClickAsync();
        await Expect(
                page.GetByRole(AriaRole.Region, new() { Name = "Load of the coming weeks as a table" })
                    .GetByRole(AriaRole.Columnheader, new() { Name = "Planned h" })
            )
            .ToBeVisibleAsync();
        Assert.Empty(await page.BarriersAsync());

        var wish = page.GetByLabel("Send me the week");
        await Expect(wish).Not.ToBeCheckedAsync();
        await wish.CheckAsync();
        await page.Locator("#week-mail-hour").SelectOptionAsync("6");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(page.GetByText("Saved.")).ToBeVisibleAsync();
        await page.OpenLiveAsync("/week");
        await Expect(wish).ToBeCheckedAsync();
        await Expect(page.Locator("#week-mail-hour")).ToHaveValueAsync("6");
        // No mail server is set up in this shop: nothing can be sent, and the page says so.
        await Expect(page.GetByText("No mail goes out at the moment")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Send last week to me now" })).ToBeDisabledAsync();
        await page.Context.CloseAsync();
    }
}
