using System.Globalization;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Diary;

/// <summary>The front desk agrees on a day, the customer confirms it on a phone without script, and the diary knows. With SHOPFLOOR_PICTURES=FOLDER also pictures.</summary>
public sealed class DiaryPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task A_day_is_agreed_at_the_desk_and_confirmed_on_a_phone_without_script()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Runa Vik");
        var office = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await office.OpenLiveAsync($"/jobs/{job}");
        var panel = office.GetByTestId("appointment-drop-off");
        var day = DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().DateTime).AddDays(2);
        await panel.GetByRole(AriaRole.Button, new() { Name = "Agree" }).ClickAsync();
        await Expect(panel.GetByText("Agree on today or a day within the next five years")).ToBeVisibleAsync();
        await panel.GetByLabel("Day").FillAsync(day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await Expect(panel.GetByText("0 cars")).ToBeVisibleAsync();
        await panel.GetByLabel("Time").FillAsync("08:30");
        await panel.GetByRole(AriaRole.Button, new() { Name = "Agree" }).ClickAsync();
        await Expect(panel.GetByText("Not confirmed.")).ToBeVisibleAsync();
        await panel.GetByRole(AriaRole.Button, new() { Name = "Link to confirm the drop-off" }).ClickAsync();
        var made = office.GetByTestId("link-once");
        var address = new Uri((await made.Locator("a").GetAttributeAsync("href"))!).PathAndQuery;
        Assert.Empty(await office.BarriersAsync());

        var seen = await shop.OpenAsync(Device.Phone);
        await seen.GotoAsync(address);
        Assert.Empty(
            await seen.ProblemsOnEveryScreenAsync("decision-time", (d, c) => TakeAsync(seen, "decision-time", d, c))
        );
        await seen.Context.CloseAsync();

        var context = await shop.Browser.NewContextAsync(
            new()
            {
                BaseURL = shop.Url,
                JavaScriptEnabled = false,
                ViewportSize = new() { Width = 390, Height = 844 },
            }
        );
        var phone = await context.NewPageAsync();
        await phone.GotoAsync(address);
        await phone.GetByLabel("Your name").FillAsync("Runa Vik");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Yes, I bring it then" }).ClickAsync();
        await Expect(phone.GetByText("We expect you then")).ToBeVisibleAsync();
        await context.CloseAsync();

        await Expect(panel.GetByText("Confirmed by Runa Vik")).ToBeVisibleAsync();
        await office.OpenLiveAsync("/diary");
        var line = office
            .Locator($"article[data-day='{day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}']")
            .GetByRole(AriaRole.Listitem)
            .Filter(new() { HasText = "Runa Vik" });
        await Expect(line).ToContainTextAsync("08:30 Drop-off");
        await Expect(line).ToContainTextAsync("confirmed");
        await office.Context.CloseAsync();
    }

    [Fact]
    public async Task A_reminder_is_written_moved_and_ticked_off()
    {
        var office = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await office.OpenLiveAsync("/diary");
        await office.GetByText("Remember something").ClickAsync();
        await office.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Expect(office.GetByText("What to think of is needed.")).ToBeVisibleAsync();
        await office.GetByLabel("What", new() { Exact = true }).FillAsync("Order argon");
        await office.GetByLabel("At (empty: some time)").FillAsync("10:15");
        await office.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        var line = office.GetByRole(AriaRole.Listitem).Filter(new() { HasText = "Order argon" });
        await Expect(line).ToContainTextAsync("10:15 Remember");
        Assert.Empty(await office.BarriersAsync());
        var to = DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().DateTime).AddDays(4);
        var iso = to.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        await line.GetByLabel("Another day: Order argon").FillAsync(iso);
        await line.GetByRole(AriaRole.Button, new() { Name = "Move: Order argon" }).ClickAsync();
        await Expect(office.Locator($"article[data-day='{iso}']")).ToContainTextAsync("Order argon");
        await line.GetByRole(AriaRole.Button, new() { Name = "Done: Order argon" }).ClickAsync();
        await Expect(line.GetByText("✓ done")).ToBeVisibleAsync();
        await line.GetByRole(AriaRole.Button, new() { Name = "Open again: Order argon" }).ClickAsync();
        await Expect(line.GetByLabel("Another day: Order argon")).ToBeVisibleAsync();
        await office.Context.CloseAsync();
    }

    private static async Task TakeAsync(IPage page, string name, Device device, ColorScheme scheme)
    {
        if (Folder is not null)
        {
            var file = $"{name}-{device.Name}-{scheme.ToString().ToLowerInvariant()}.png";
            await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, file), FullPage = true });
        }
    }
}
