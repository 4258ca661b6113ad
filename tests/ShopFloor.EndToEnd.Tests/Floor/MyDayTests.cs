using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>A person's own day at the tablet, and its correction in the office.</summary>
public sealed class MyDayTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string Fabricator => StaffedShop.EmailOf(Role.Fabricator);

    [Fact]
    public async Task Coming_a_break_and_going_home_are_taps_and_a_break_without_a_connection_is_kept()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToBeVisibleAsync();
        await page.GotoAsync("/floor/day");
        await page.GetByRole(AriaRole.Button, new() { Name = "I am here" }).ClickAsync();
        await Assertions.Expect(page.Locator("#here")).ToContainTextAsync("Here since");
        await page.ReadyForOfflineAsync();

        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Break" }).ClickAsync();
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("Day: Break");
        await page.Context.SetOfflineAsync(false);

        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.Locator(".day-now")).ToContainTextAsync("Break since");
        await Assertions.Expect(page.Locator(".day-left")).ToContainTextAsync("10 ");
        await page.Locator(".day-now").GetByRole(AriaRole.Button, new() { Name = "Back to work" }).ClickAsync();
        await Assertions.Expect(page.Locator(".day-now")).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "I go home" }).ClickAsync();
        await Assertions.Expect(page.Locator("#here")).ToContainTextAsync("Not clocked in");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Forgotten_timer_is_asked_about_on_the_tablet_and_listed_in_the_office_with_its_trace()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToBeVisibleAsync();
        // As if it had been started the evening before.
        var evening = TimeProvider.System.GetUtcNow().AddHours(-14);
        await shop.WriteAsync(db =>
            db.Set<TimeEntry>()
                .Where(t => t.EndedAt == null)
                .ExecuteUpdate(s => s.SetProperty(t => t.StartedAt, evening))
        );
        var desk = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await desk.OpenLiveAsync("/times");
        await Assertions.Expect(desk.Locator("#forgotten-title")).ToBeVisibleAsync();

        await page.ReloadAsync();
        var ask = page.Locator(".day-ask[data-ask='10']");
        await Assertions.Expect(ask).ToContainTextAsync("Still on it?");
        var stopped = await page.EvaluateAsync<string>(
            "() => new Date(Date.now() - 13 * 3600e3).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })"
        );
        await ask.GetByLabel("No, I stopped at").FillAsync(stopped);
        await ask.GetByRole(AriaRole.Button, new() { Name = "Set that time" }).ClickAsync();
        await Assertions.Expect(ask).ToHaveCountAsync(0);

        await Assertions.Expect(desk.Locator("#forgotten-title")).ToHaveCountAsync(0);
        await desk.OpenLiveAsync($"/jobs/{job}/times");
        await Assertions.Expect(desk.Locator(".trace")).ToContainTextAsync("to running; corrected by Olga Owner");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Correct 10" }).ClickAsync();
        var end = desk.GetByLabel("To", new() { Exact = true });
        await end.FillAsync(await desk.GetByLabel("From", new() { Exact = true }).InputValueAsync());
        await desk.GetByLabel("Why is it corrected?").FillAsync("Was at the other car");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Save the correction" }).ClickAsync();
        await Assertions.Expect(desk.Locator(".trace").Last).ToContainTextAsync("Was at the other car");
        await desk.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Half_typed_words_are_there_again_after_a_reload_without_a_connection()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        foreach (var path in new[] { "/floor/day", $"/floor/jobs/{job}" })
        {
            await page.GotoAsync(path);
            await page.ReadyForOfflineAsync();
        }

        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).ClickAsync();
        await page.GetByText("A defect was found").ClickAsync();
        await page.GetByLabel("In your words").FillAsync("rust behind the left sill, about a hand wide");
        await page.Context.SetOfflineAsync(true);
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#hold-dialog")).ToBeVisibleAsync();
        await Assertions
            .Expect(page.GetByLabel("In your words"))
            .ToHaveValueAsync("rust behind the left sill, about a hand wide");
        await Assertions.Expect(page.GetByLabel("A defect was found")).ToBeCheckedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put on hold" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("Hold: 10");

        await page.GotoAsync("/floor/day");
        await page.GetByLabel("Something else without a car").FillAsync("fetching ste");
        await page.ReloadAsync();
        await Assertions.Expect(page.GetByLabel("Something else without a car")).ToHaveValueAsync("fetching ste");
        await page.Context.SetOfflineAsync(false);
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.GetByLabel("Something else without a car")).ToHaveValueAsync("fetching ste");
        await page.GotoAsync($"/floor/jobs/{job}");
        await Assertions.Expect(page.Locator(".op[data-section=held]")).ToContainTextAsync("rust behind the left sill");
        await Assertions.Expect(page.Locator("#hold-dialog")).Not.ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task My_day_fits_every_screen_with_large_targets_and_no_barrier()
    {
        foreach (var device in Device.All)
        {
            var page = await shop.OpenAsAsync(Fabricator, device);
            await page.GotoAsync("/floor/day");
            await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
            Assert.True(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
                $"My day is wider than the {device.Name}."
            );
            Assert.Empty(
                await page.EvaluateAsync<string[]>(
                    "[...document.querySelectorAll('.tap, .back, main input')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 64).map(e => e.textContent)"
                )
            );
            Assert.Empty(await page.BarriersAsync());
            await page.Context.CloseAsync();
        }
    }

    [Fact]
    public async Task A_scanner_that_types_opens_the_car_and_so_does_its_number()
    {
        var job = await shop.SignedJobAsync();
        await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync("/floor");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        foreach (var end in new[] { "Enter", null })
        {
            await ScanAsync(page, $"https://another.example/floor/jobs/{job}", end);
            await Assertions
                .Expect(page)
                .ToHaveURLAsync(new System.Text.RegularExpressions.Regex($"/floor/jobs/{job}$"));
            await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        }

        var number = (await page.Locator(".car-head .soft").TextContentAsync())!.Split(' ')[0];
        await page.GotoAsync("/floor");
        await page.GetByLabel("Scan the traveller").FillAsync(number.ToLowerInvariant());
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the car" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex($"/floor/jobs/{job}$"));
        await page.GotoAsync("/floor/find?code=nothing-like-it");
        await Assertions
            .Expect(page.GetByRole(AriaRole.Status).Filter(new() { HasText = "No car in the shop" }))
            .ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    /// <summary>A code as a scanner types it, in one go: no key waits for another, however busy the machine is. Returns when the page has asked for the car.</summary>
    /// <param name="end">The key after the code; null for a scanner that sends none.</param>
    private static Task<IRequest> ScanAsync(IPage page, string code, string? end) =>
        page.RunAndWaitForRequestAsync(
            () =>
                page.EvaluateAsync(
                    "keys => keys.forEach(key => document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })))",
                    code.Select(c => c.ToString()).Concat(end is null ? [] : [end])
                ),
            request =>
                request.IsNavigationRequest && request.Url.Contains("/floor/find?code=", StringComparison.Ordinal)
        );

    [Fact]
    public async Task A_car_that_is_not_here_answers_not_found()
    {
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        var answer = await page.GotoAsync("/floor/jobs/0197a000-0000-7000-8000-0000000000ff");
        Assert.Equal(404, answer!.Status);
        await page.Context.CloseAsync();
    }
}
