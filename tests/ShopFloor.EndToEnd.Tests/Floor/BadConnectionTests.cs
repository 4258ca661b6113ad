using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>What poor Wi-Fi, a wrong clock and a full tablet do to taps.</summary>
public sealed class BadConnectionTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string Fabricator => StaffedShop.EmailOf(Role.Fabricator);

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_tap_whose_request_or_answer_is_lost_twice_is_applied_once(bool isCommitted)
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        var lost = 0;
        await page.RouteAsync(
            "**/operations/*/start",
            async route =>
            {
                if (++lost > 2)
                {
                    await route.ContinueAsync();
                    return;
                }

                if (isCommitted)
                {
                    // The server has taken it; its answer never arrives.
                    await route.FetchAsync();
                }

                await route.AbortAsync("connectionreset");
            }
        );

        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        Assert.True(lost > 2);
        Assert.Equal(1, await EventsAsync(job, "operation.started"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Taps_of_two_tabs_without_a_connection_are_sent_once_each_and_in_their_order()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        var other = await page.Context.NewPageAsync();
        await other.GotoAsync($"/floor/jobs/{job}");
        await Assertions.Expect(other.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "1");
        await other.GetByRole(AriaRole.Button, new() { Name = "Done already" }).ClickAsync();
        await Assertions.Expect(other.Locator("#outbox")).ToHaveAttributeAsync("data-count", "2");

        await page.Context.SetOfflineAsync(false);

        foreach (var tab in new[] { page, other })
        {
            await Assertions.Expect(tab.Locator(".op[data-section=done][data-code='10']")).ToBeVisibleAsync();
            await Assertions.Expect(tab.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        }

        Assert.Equal(1, await EventsAsync(job, "operation.started"));
        Assert.Equal(1, await EventsAsync(job, "operation.finished"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_tablet_without_room_says_at_once_that_the_tap_is_not_kept()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        await page.EvaluateAsync(
            "() => { window.put = IDBObjectStore.prototype.put; IDBObjectStore.prototype.put = () => { throw new DOMException('no room', 'QuotaExceededError'); }; }"
        );
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator("#lost")).ToContainTextAsync("NOT kept: Start: 10");
        Assert.Equal(0, await EventsAsync(job, "operation.started"));

        // What was typed for a hold stays too.
        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).ClickAsync();
        await page.GetByText("A defect was found").ClickAsync();
        await page.GetByLabel("In your words").FillAsync("a long story about rust");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put on hold" }).ClickAsync();
        // A dialog tells of its closing with the next picture the browser draws, which may come after it has gone.
        await Assertions.Expect(page.Locator("#lost")).ToContainTextAsync("NOT kept: Hold: 10");
        await page.EvaluateAsync("() => { IDBObjectStore.prototype.put = window.put; }");
        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("In your words")).ToHaveValueAsync("a long story about rust");
        await page.Locator("#hold-dialog").GetByRole(AriaRole.Button, new() { Name = "Back" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        await Assertions.Expect(page.Locator("#lost")).ToBeHiddenAsync();
        await page.Context.CloseAsync();
    }

    /// <summary>A disk so busy that nothing is written as long as the page is there.</summary>
    private const string BusyDisk = """
        () => {
          const put = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function (tap) {
            const busy = () => (this.count().onsuccess = busy);
            const request = put.call(this, tap);
            busy();
            return request;
          };
        }
        """;

    [Fact]
    public async Task A_photo_that_went_with_its_page_does_not_keep_back_later_taps()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        await page.EvaluateAsync(BusyDisk);
        await page.Locator("#photo-input")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "weld.jpg",
                    MimeType = "image/jpeg",
                    Buffer = [0xFF, 0xD8, 0xFF],
                }
            );
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        Assert.Equal(
            0,
            await page.EvaluateAsync<int>(
                "() => Object.keys(localStorage).filter(k => k.startsWith('shopfloor-tap ')).length"
            )
        );
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running][data-code='10']")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_page_that_goes_away_in_the_moment_of_a_tap_does_not_take_the_tap_along()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        await page.EvaluateAsync(BusyDisk);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await page.ReloadAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running][data-code='10']")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        Assert.Equal(1, await EventsAsync(job, "operation.started"));
        Assert.Equal(
            0,
            await page.EvaluateAsync<int>(
                "() => Object.keys(localStorage).filter(k => k.startsWith('shopfloor-tap ')).length"
            )
        );
        await page.Context.CloseAsync();
    }

    [Theory]
    [InlineData(5)]
    [InlineData(-30)]
    public async Task A_tablet_whose_clock_is_wrong_dates_its_taps_by_the_servers(int hours)
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.Clock.InstallAsync(new() { TimeDate = TimeProvider.System.GetUtcNow().UtcDateTime.AddHours(hours) });
        await page.GotoAsync($"/floor/jobs/{job}");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        // The first news after the connection say what time it is.
        await page.WaitForFunctionAsync("() => localStorage.getItem('shopfloor-clock') !== null");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        var apart = TimeSpan.MaxValue;
        await shop.WriteAsync(db =>
        {
            var started = db.Events.Single(e => e.Job == job && e.Type == "operation.started");
            apart = (started.OccurredAt - started.RecordedAt).Duration();
        });
        Assert.True(apart < TimeSpan.FromMinutes(10), $"The tap was dated {apart} from when it was made.");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_tap_dated_in_the_future_is_shown_for_a_decision_and_sent_again_as_of_now()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        var isAhead = true;
        // As after a clock that was set ahead while there was no connection.
        await page.RouteAsync(
            "**/operations/*/start",
            async route =>
            {
                if (!isAhead)
                {
                    await route.ContinueAsync();
                    return;
                }

                isAhead = false;
                var ahead = route.Request.PostData!.Replace(
                    "\"occurredAt\":\"20",
                    "\"occurredAt\":\"30",
                    StringComparison.Ordinal
                );
                await route.ContinueAsync(new() { PostData = System.Text.Encoding.UTF8.GetBytes(ahead) });
            }
        );
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("lies in the future");

        await page.GetByRole(AriaRole.Button, new() { Name = "Send again" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Fabricator Person");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task News_whose_page_could_not_be_loaded_at_first_are_shown_all_the_same()
    {
        var job = await shop.SignedJobAsync();
        var page = await OpenAsync(job);
        await page.EvaluateAsync(
            """
            () => {
              const real = window.fetch;
              window.lost = 0;
              window.fetch = (...request) => (request[0] === location.href && window.lost++ < 2 ? Promise.reject(new TypeError("lost")) : real(...request));
            }
            """
        );
        var other = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await other.GotoAsync($"/floor/jobs/{job}");
        await other.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions.Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Olga Owner");
        Assert.True(await page.EvaluateAsync<int>("window.lost") > 2);
        await other.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    private async Task<IPage> OpenAsync(JobId job)
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
