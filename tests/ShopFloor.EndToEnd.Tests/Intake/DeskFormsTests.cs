using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Intake;

/// <summary>The forms of the front desk after the first save, with wrong values and with the browser's own buttons.</summary>
public sealed class DeskFormsTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private const string Name = "Zoë O'Hara-Søn <b>\"Zed\"</b>";

    [Fact]
    public async Task A_new_customer_gets_their_page_and_going_back_begins_another()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/customers");
        await page.GetByRole(AriaRole.Link, new() { Name = "New customer" }).ClickAsync();
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync(Name);
        await SaveAsync(page);
        await Expect(page).ToHaveURLAsync(new Regex("/customers/[0-9a-f-]{36}$"));
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync(Name);

        // The saved version is known: a second save is a change, not a clash.
        await page.GetByLabel("Telephone").FillAsync("+44 20 7946 0000");
        await SaveAsync(page);
        await Expect(page.GetByText("Saved.").Last).ToBeVisibleAsync();
        await page.ReloadAsync();
        await page.IsLiveAsync();
        await Expect(page.GetByLabel("Telephone")).ToHaveValueAsync("+44 20 7946 0000");

        await page.GoBackAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("New customer");
        await Expect(page.GetByLabel("Name", new() { Exact = true })).ToHaveValueAsync("");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_wrong_odometer_gets_a_sentence_and_is_not_quietly_made_another()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Otto Meter");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/drop-off");
        foreach (var wrong in new[] { "-12", "1,5", "1e5" })
        {
            await page.GetByLabel("Odometer, km").FillAsync(wrong);
            await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
            await Expect(page.GetByText($"'{wrong}' is no whole number").First).ToBeVisibleAsync();
        }

        await Expect(page.GetByText("Not saved yet: Odometer, km").First).ToBeVisibleAsync();
        await page.GetByLabel("Odometer, km").FillAsync("178,352");
        await page.GetByLabel("Keys handed in").FillAsync("99");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(page.GetByText("99 keys are outside 0 to").Last).ToBeVisibleAsync();
        await page.GetByLabel("Keys handed in").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(page.GetByText("✓ Saved")).ToBeVisibleAsync();
        await page.Context.CloseAsync();

        var kept = (await desk.ReadAsync($"/api/v1/jobs/{job}/drop-off")).GetProperty("dropOff");
        Assert.Equal((178_352, 2), (kept.GetProperty("odometerKm").GetInt32(), kept.GetProperty("keys").GetInt32()));
    }

    [Fact]
    public async Task Only_a_quote_without_its_job_can_be_taken_over_half_built()
    {
        var desk = await DeskJob.AtAsync(shop);
        await desk.OpenAsync("Hanna Begun");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/jobs/half-built");

        await Expect(page.GetByText("No accepted quote is without its job.")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    private static Task SaveAsync(IPage page) =>
        page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
}
