using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>The day after the server was away: sheets are typed in.</summary>
public sealed class PaperTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string FrontDesk => StaffedShop.EmailOf(Role.FrontDesk);

    [Fact]
    public async Task A_refused_line_is_shown_with_its_reason_changed_and_entered_and_marked_everywhere()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Desk);
        await page.GotoAsync($"/floor/paper?job={job}");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.GetByLabel("Step (No.)").SelectOptionAsync("20");
        await page.GetByLabel("Who worked").SelectOptionAsync(new SelectOptionValue { Label = "Fabricator Person" });
        var yesterday = await page.EvaluateAsync<string>(
            "() => new Date(Date.now() - 24 * 3600e3).toLocaleDateString('en-CA')"
        );
        await page.GetByLabel("Day on the paper").FillAsync(yesterday);
        await page.GetByLabel("Began").FillAsync("09:10");
        await page.GetByText("Done is ticked").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter this line" }).ClickAsync();
        await Assertions.Expect(page.Locator("#paper-problem")).ToContainTextAsync("give the time at which it ended");
        await page.GetByLabel("Ended").FillAsync("11:30");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter this line" }).ClickAsync();

        // 10 is not done yet: the line stays, through a reload, until somebody decides.
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("refused: please decide");
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("10 ");
        await page.GetByRole(AriaRole.Button, new() { Name = "Change it" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Began")).ToHaveValueAsync("09:10");
        await page.GetByLabel("Step (No.)").SelectOptionAsync("10");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter this line" }).ClickAsync();

        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.Locator(".later")).ToContainTextAsync("Fabricator Person");
        await Assertions.Expect(page.GetByLabel("Day on the paper")).ToHaveValueAsync(yesterday);
        await page.OpenLiveAsync($"/jobs/{job}/times");
        await Assertions
            .Expect(page.Locator(".from-paper"))
            .ToContainTextAsync("From paper, typed in by FrontDesk Person");
        await page.OpenLiveAsync("/history");
        await Assertions
            .Expect(page.GetByRole(AriaRole.Row).Filter(new() { HasText = "Operation finished" }).First)
            .ToContainTextAsync("from paper, written by Fabricator Person");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_line_typed_without_a_connection_is_kept_and_entered_once()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Tablet);
        await page.GotoAsync($"/floor/paper?job={job}");
        await page.ReadyForOfflineAsync();
        await page.Context.SetOfflineAsync(true);
        await page.GetByLabel("Step (No.)").SelectOptionAsync("10");
        await page.GetByLabel("Who worked").SelectOptionAsync(new SelectOptionValue { Label = "Fabricator Person" });
        await page.GetByLabel("Began").FillAsync("00:00");
        await page.GetByLabel("Ended").FillAsync("00:00");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter this line" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");
        await page.ReloadAsync();
        await Assertions.Expect(page.GetByLabel("Began")).ToHaveValueAsync("");
        await page.Context.SetOfflineAsync(false);

        await Assertions.Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");
        await Assertions.Expect(page.Locator(".later li")).ToHaveCountAsync(1);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task The_page_and_the_wall_fit_every_screen_with_large_targets_and_no_barrier()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Tablet);
        foreach (var path in new[] { "/floor", "/floor/paper", $"/floor/paper?job={job}" })
        {
            await page.GotoAsync(path);
            await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
            Assert.Empty(await page.ProblemsOnEveryScreenAsync(path));
            Assert.Empty(
                await page.EvaluateAsync<string[]>(
                    "[...document.querySelectorAll('.tap, .back, main input:not([type=hidden]):not([type=checkbox]), main select, label.cause')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 64).map(e => e.outerHTML)"
                )
            );
        }

        var set = await page.Context.APIRequest.GetAsync("/travellers/pdf");
        Assert.Equal("application/pdf", set.Headers["content-type"]);
        await page.Context.CloseAsync();
    }
}
