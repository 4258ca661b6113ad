using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>What the office does with jobs.</summary>
public sealed class JobPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string FrontDesk => StaffedShop.EmailOf(Role.FrontDesk);

    [Fact]
    public async Task Half_built_car_is_taken_over_with_what_is_done_and_its_predecessors()
    {
        var quote = await shop.AcceptedQuoteAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Desk);
        await page.OpenLiveAsync("/jobs/half-built");
        await page.GetByLabel("Accepted quote").SelectOptionAsync(quote.Value.ToString());
        await page.Locator("label.done").Filter(new() { HasText = "60 Glass" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the job from here" }).ClickAsync();

        await Assertions.Expect(page.GetByText("Taken over half built")).ToBeVisibleAsync();
        foreach (var code in new[] { "10", "20", "30", "40", "50", "60" })
        {
            await Assertions
                .Expect(page.GetByRole(AriaRole.Row).Filter(new() { HasText = $"{code} " }).First)
                .ToContainTextAsync("Done before on");
        }

        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Promise_moves_with_its_reason_and_stays_readable()
    {
        var job = await shop.JobAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Promise another day" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Assertions.Expect(page.GetByText("The reason is needed.")).ToBeVisibleAsync();

        await page.GetByLabel("Reason", new() { Exact = true }).FillAsync("door panels late");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Reason", new() { Exact = true })).ToHaveCountAsync(0);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Operation_is_set_to_not_needed_with_a_reason()
    {
        var job = await shop.JobAsync();
        var page = await shop.OpenAsAsync(FrontDesk, Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}");
        await page.GetByRole(AriaRole.Button, new() { Name = "40 is not needed", Exact = true }).ClickAsync();
        await page.GetByLabel("Why is 40 not needed on this car?").FillAsync("the shell is bare");
        await page.GetByRole(AriaRole.Button, new() { Name = "Set to not needed" }).ClickAsync();

        await Assertions
            .Expect(page.GetByRole(AriaRole.Row).Filter(new() { HasText = "40 Sound" }).First)
            .ToContainTextAsync("the shell is bare");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Open_job_page_shows_a_tap_of_the_floor_without_a_reload()
    {
        var job = await shop.SignedJobAsync();
        var office = await shop.OpenAsAsync(FrontDesk, Device.Desk);
        await office.OpenLiveAsync($"/jobs/{job}");
        var tablet = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await tablet.GotoAsync($"/floor/jobs/{job}");
        await Assertions.Expect(tablet.Locator("#link-state")).ToHaveTextAsync("Connected");

        await tablet.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();

        await Assertions
            .Expect(office.GetByRole(AriaRole.Row).Filter(new() { HasText = "10 Condition" }).First)
            .ToContainTextAsync("Fabricator Person since");
        await office.Context.CloseAsync();
        await tablet.Context.CloseAsync();
    }
}
