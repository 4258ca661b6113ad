using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

public sealed class FloorTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string Fabricator => StaffedShop.EmailOf(Role.Fabricator);

    [Fact]
    public async Task Tap_made_while_the_server_is_unreachable_is_kept_through_a_reload_and_applied_once()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.ReadyForOfflineAsync();

        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");
        await Assertions.Expect(page.Locator("#link-state")).ToContainTextAsync("No connection");
        Assert.Equal(0, await EventsAsync(job, "operation.started"));

        await page.Context.SetOfflineAsync(false);

        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        Assert.Equal(1, await EventsAsync(job, "operation.started"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Late_tap_that_the_state_no_longer_allows_is_shown_for_a_decision()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Done already" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "1");

        var other = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await other.GotoAsync($"/floor/jobs/{job}");
        await other.GetByRole(AriaRole.Button, new() { Name = "Done already" }).ClickAsync();
        await Assertions.Expect(other.Locator(".op[data-section=done]")).ToContainTextAsync("Olga Owner finished it");
        await page.Context.SetOfflineAsync(false);

        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("please decide");
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("Olga Owner finished it at");
        await page.GetByRole(AriaRole.Button, new() { Name = "Drop it" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        Assert.Equal(1, await EventsAsync(job, "operation.finished"));
        await other.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Tap_that_the_server_stumbles_over_keeps_back_the_taps_of_its_own_car_only()
    {
        var (troubled, other) = (await shop.SignedJobAsync(), await shop.SignedJobAsync());
        var page = await OpenJobAsync(troubled);
        await page.RouteAsync($"**/floor/jobs/{troubled}/operations/**", r => r.FulfillAsync(new() { Status = 500 }));
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "1");

        await page.GotoAsync($"/floor/jobs/{other}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "1");
        await page.UnrouteAllAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        Assert.Equal(1, await EventsAsync(troubled, "operation.started"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Open_page_that_asks_for_news_without_a_connection_is_not_given_its_old_copy()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);

        // The copy carries the server's time of then: a page that took it for news would date its taps back.
        var answer = await page.EvaluateAsync<string>(
            "() => fetch(location.href, { cache: 'no-store' }).then(r => `${r.status}`, () => 'no connection')"
        );

        Assert.Equal("no connection", answer);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Hot_work_is_not_started_without_a_connection()
    {
        var job = await shop.SignedJobAsync();
        await shop.OpenPermitAsync(job.Value, "bay");
        var page = await OpenJobAsync(job);
        foreach (var code in new[] { "10", "20", "30", "40" })
        {
            await page.Locator($"button[data-tap=finish][data-code='{code}']").ClickAsync();
            await Assertions.Expect(page.Locator($".op[data-section=done][data-code='{code}']")).ToBeVisibleAsync();
        }

        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);
        await Assertions.Expect(page.Locator("#link-state")).ToContainTextAsync("No connection");
        await page.Locator("button[data-tap=start][data-code='50']").ClickAsync();

        await Assertions
            .Expect(page.Locator(".op[data-code='50'] .unsent"))
            .ToContainTextAsync("Hot work is not started");
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Tap_on_one_tablet_shows_on_another_without_a_reload()
    {
        var job = await shop.SignedJobAsync();
        var wall = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Desk);
        await wall.GotoAsync("/floor");
        await Assertions.Expect(wall.Locator("#link-state")).ToHaveTextAsync("Connected");
        var page = await OpenJobAsync(job);

        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        var car = wall.Locator(".wall-car").Filter(new() { Has = wall.Locator($"a[href$='{job}']") });
        await Assertions.Expect(car.Locator(".phase").First).ToContainTextAsync("In work");
        await wall.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Hold_asks_for_its_reason_and_is_lifted_by_a_tap()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).ClickAsync();
        await page.GetByText("A question to the customer is open").ClickAsync();
        await page.GetByLabel("In your words").FillAsync("which seat");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put on hold" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=held]")).ToContainTextAsync("which seat");
        await page.GetByRole(AriaRole.Button, new() { Name = "Resume" }).ClickAsync();
        await Assertions.Expect(page.Locator(".op[data-section=next]")).ToContainTextAsync("Ready");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Hold_with_a_photo_made_without_a_connection_is_sent_whole()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).ClickAsync();
        await page.GetByText("A defect was found").ClickAsync();
        await page.GetByLabel("In your words").FillAsync("rust at the sill");
        await page.GetByLabel("A photo of what is in the way")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "rust.png",
                    MimeType = "image/png",
                    Buffer = Intake.Pictures.Png,
                }
            );
        await page.GetByRole(AriaRole.Button, new() { Name = "Put on hold" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");
        Assert.Equal(0, await EventsAsync(job, "photo.added"));
        await page.ReloadAsync();
        await page.Context.SetOfflineAsync(false);

        var held = page.Locator(".op[data-section=held]");
        await Assertions.Expect(held).ToContainTextAsync("rust at the sill");
        await Assertions.Expect(held.GetByAltText("What is in the way")).ToBeVisibleAsync();
        Assert.Equal(1, await EventsAsync(job, "photo.added"));
        Assert.Equal(1, await EventsAsync(job, "operation.held"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Photo_taken_without_a_connection_is_kept_and_sent_later()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenJobAsync(job);
        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);
        // A picture made by the browser itself.
        var picture = await page.EvaluateAsync<string>(
            "() => { const c = document.createElement('canvas'); c.width = 320; c.height = 240; c.getContext('2d').fillRect(20, 20, 90, 60); return c.toDataURL('image/jpeg').split(',')[1]; }"
        );
        await page.Locator("#photo-input")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "floor.jpg",
                    MimeType = "image/jpeg",
                    Buffer = Convert.FromBase64String(picture),
                }
            );
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("Photo");

        await page.Context.SetOfflineAsync(false);

        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.Locator(".thumbs img")).ToHaveCountAsync(1);
        await page.Context.CloseAsync();
    }

    [Theory]
    [InlineData("/floor")]
    [InlineData("/floor/jobs/{job}")]
    public async Task Page_fits_every_screen_with_large_targets_and_no_barrier(string path)
    {
        var job = await shop.SignedJobAsync();
        foreach (var device in Device.All)
        {
            var page = await shop.OpenAsAsync(Fabricator, device);
            await page.GotoAsync(path.Replace("{job}", job.ToString(), StringComparison.Ordinal));
            await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
            Assert.True(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
                $"{path} is wider than the {device.Name}."
            );
            var small = await page.EvaluateAsync<string[]>(
                "[...document.querySelectorAll('.tap, .wall-link, .back')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 64).map(e => e.textContent)"
            );
            Assert.Empty(small);
            Assert.Empty(await page.BarriersAsync());
            await page.Context.CloseAsync();
        }
    }

    private async Task<IPage> OpenJobAsync(JobId job)
    {
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        return page;
    }

    private async Task<int> EventsAsync(JobId job, string type)
    {
        var count = 0;
        await shop.WriteAsync(db => count = db.Events.Count(e => e.Job == job && e.Type == type));
        return count;
    }
}
