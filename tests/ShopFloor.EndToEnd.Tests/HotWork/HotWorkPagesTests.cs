using System.Text.Json;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using ShopFloor.EndToEnd.Tests.Story;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.HotWork;

/// <summary>A permit and its fire watch at tablets, with a server clock that the test moves.</summary>
public sealed class HotWorkPagesTests(StoryShop shop) : IClassFixture<StoryShop>
{
    [Fact]
    public async Task A_permit_is_opened_by_its_checklist_and_closed_by_its_watcher_when_the_watch_is_over()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await HotJobAsync(desk, "Iris Holm");
        var welder = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await welder.GotoAsync($"/floor/jobs/{job}");
        await Expect(welder.Locator("button[data-tap=start][data-code='50']")).ToHaveCountAsync(0);
        await welder.GetByRole(AriaRole.Link, new() { Name = "Open a hot-work permit for the bay" }).ClickAsync();

        // Nothing looked at: a sentence for each point, and what was chosen stays.
        await welder.GetByRole(AriaRole.Button, new() { Name = "Open the permit" }).ClickAsync();
        await Expect(welder.Locator("#refused li")).ToHaveCountAsync(PermitPoint.All.Count + 1);
        await Expect(welder.GetByLabel("The car that stands there")).ToHaveValueAsync(job);
        await WalkAsync(welder);
        await welder
            .GetByLabel("Fire watcher", new() { Exact = false })
            .SelectOptionAsync(new SelectOptionValue { Label = "FrontDesk Person" });
        await welder.GetByRole(AriaRole.Button, new() { Name = "Open the permit" }).ClickAsync();
        await Expect(welder.Locator("#said")).ToContainTextAsync("is open. FrontDesk Person watches.");

        await TapAsync(welder, job, "start");
        await Expect(welder.Locator(".fire-bar li")).ToHaveAttributeAsync("data-state", "hotWork");
        await welder.Locator("button[data-tap=stop][data-code='50']").ClickAsync();
        await Expect(welder.Locator(".fire-bar li")).ToHaveAttributeAsync("data-state", "watch");
        await Expect(welder.Locator(".fire-bar .watch-left")).ToContainTextAsync("left");

        // It stands on every screen: the wall, an office page, the inspector's list.
        var watcher = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
        await watcher.GotoAsync("/floor");
        await Expect(watcher.Locator(".fire-bar")).ToContainTextAsync("Fire watch in the bay");
        await watcher.OpenLiveAsync($"/jobs/{job}");
        await Expect(watcher.GetByTestId("fire-bar")).ToContainTextAsync("Fire watch in the bay");
        await welder.GotoAsync("/inspection");
        await Expect(welder.Locator(".fire-bar")).ToContainTextAsync("Fire watch in the bay");

        // The watcher cannot close before the time; the server's clock decides.
        await watcher.GotoAsync("/floor/hot-work");
        await Expect(Close(watcher)).ToHaveCountAsync(0);
        shop.Clock.Advance(TimeSpan.FromMinutes(FireWatch.UsualMinutes - 2));
        await watcher.ReloadAsync();
        await Expect(Close(watcher)).ToHaveCountAsync(0);
        shop.Clock.Advance(TimeSpan.FromMinutes(3));
        await watcher.ReloadAsync();
        await Expect(watcher.Locator(".permit")).ToHaveAttributeAsync("data-state", "watchOver");
        await welder.GotoAsync("/floor/hot-work");
        await Expect(Close(welder)).ToHaveCountAsync(0);
        await Close(watcher).ClickAsync();
        await Expect(watcher.Locator("#said")).ToContainTextAsync("is closed");
        await Expect(watcher.Locator(".fire-bar")).ToHaveCountAsync(0);
        await watcher.OpenLiveAsync("/hot-work");
        await Expect(watcher.GetByTestId("permit").First).ToContainTextAsync("Closed");
        await watcher.Context.CloseAsync();
        await welder.Context.CloseAsync();
    }

    [Fact]
    public async Task Sparks_seen_begin_the_watch_anew_and_the_watch_is_handed_over()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await HotJobAsync(desk, "Jon Ferris");
        await shop.OpenPermitAsync(Guid.Parse(job), "bay");
        var welder = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await TapAsync(welder, job, "start");
        await welder.Locator("button[data-tap=stop][data-code='50']").ClickAsync();
        await Expect(welder.Locator(".fire-bar li")).ToHaveAttributeAsync("data-state", "watch");
        shop.Clock.Advance(TimeSpan.FromMinutes(FireWatch.UsualMinutes + 1));
        await welder.GotoAsync("/floor/hot-work");
        await Expect(welder.Locator(".permit")).ToHaveAttributeAsync("data-state", "watchOver");
        await welder.GetByRole(AriaRole.Button, new() { Name = "Sparks or smoke seen" }).ClickAsync();
        await Expect(welder.Locator(".permit")).ToHaveAttributeAsync("data-state", "watch");
        await welder.Locator("summary", new() { HasText = "Hand the watch over" }).ClickAsync();
        await welder.GetByLabel("Who watches now").SelectOptionAsync(new SelectOptionValue { Label = "Olga Owner" });
        await welder.GetByRole(AriaRole.Button, new() { Name = "Hand over" }).ClickAsync();
        await Expect(welder.Locator("#said")).ToHaveTextAsync("Olga Owner watches now.");
        shop.Clock.Advance(TimeSpan.FromMinutes(FireWatch.UsualMinutes + 1));
        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await owner.GotoAsync("/floor/hot-work");
        await Close(owner).ClickAsync();
        await Expect(owner.Locator("#said")).ToContainTextAsync("is closed");
        await owner.Context.CloseAsync();
        await welder.Context.CloseAsync();
    }

    [Fact]
    public async Task Checklist_fits_tablet_and_phone_with_targets_for_gloves_and_can_be_used_by_everybody()
    {
        foreach (var device in new[] { Device.Tablet, Device.Phone })
        {
            var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), device);
            await page.GotoAsync("/floor/hot-work/open");
            Assert.True(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
                $"Wider than the {device.Name}."
            );
            Assert.Empty(
                await page.EvaluateAsync<string[]>(
                    "[...document.querySelectorAll('.tap, .back, .cause, main select, main input[type=text], main input[type=number]')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 64).map(e => e.outerHTML)"
                )
            );
            Assert.Empty(await page.BarriersAsync());
            await page.Context.CloseAsync();
        }
    }

    private static ILocator Close(IPage page) => page.GetByRole(AriaRole.Button, new() { Name = "I looked" });

    private static async Task WalkAsync(IPage page)
    {
        foreach (var point in PermitPoint.All)
        {
            await page.GetByRole(AriaRole.Group, new() { Name = point.Title })
                .GetByLabel("Yes, looked at")
                .CheckAsync();
        }
    }

    /// <summary>Taps operation 50 once the tablet's clock goes with the server's.</summary>
    private static async Task TapAsync(IPage page, string job, string tap)
    {
        await page.GotoAsync($"/floor/jobs/{job}");
        await page.ClockIsServersAsync();
        await page.Locator($"button[data-tap={tap}][data-code='50']").ClickAsync();
        await Expect(page.Locator(".op[data-section=running][data-code='50']")).ToBeVisibleAsync();
    }

    /// <summary>A signed job whose next operation, 50, is hot work.</summary>
    private static async Task<string> HotJobAsync(DeskJob desk, string customer)
    {
        var job = await desk.OpenReadyForHotWorkAsync(customer);
        var state = await desk.ReadAsync($"/api/v1/jobs/{job}");
        Assert.Contains(
            state.GetProperty("operations").EnumerateArray(),
            o => o.GetProperty("code").GetString() == "50" && Reasons(o).SequenceEqual(["permit"])
        );
        return job;
    }

    private static IEnumerable<string?> Reasons(JsonElement operation) =>
        operation.GetProperty("reasons").EnumerateArray().Select(r => r.GetProperty("code").GetString());
}
