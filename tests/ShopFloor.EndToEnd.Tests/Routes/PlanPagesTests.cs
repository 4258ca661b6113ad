using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Routes;

/// <summary>The plan in a browser: a long search is stopped, an operation is pinned, the owner changes hours, one more car is asked about.</summary>
public sealed partial class RoutePagesTests
{
    [Fact]
    public async Task Desk_stops_a_long_search_pins_an_operation_and_asks_about_one_more_car()
    {
        var page = await shop.OpenAsAsync(DemoShop.FrontDesk, Device.Desk);
        await page.OpenLiveAsync("/plan");
        await Assertions.Expect(page.GetByText("Nobody has asked for a plan yet")).ToBeVisibleAsync();
        await page.GetByLabel("Look for").SelectOptionAsync("300");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a plan" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop and keep the best so far" }).ClickAsync();
        await Assertions.Expect(page.GetByText("stopped early")).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("^Change J-") }).First.ClickAsync();
        await page.GetByLabel("Pin it where it is", new() { Exact = false }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Wish it so" }).ClickAsync();
        await Assertions.Expect(page.GetByText("⚑ pinned").First).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex(" sooner$") }).First.ClickAsync();
        await Assertions.Expect(page.GetByText("soon", new() { Exact = true })).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "What if a car came?" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask the plan" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Choose the quote whose car would come.")).ToBeVisibleAsync();
        await page.GetByLabel("Quote", new() { Exact = true }).SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask the plan" }).ClickAsync();
        await Assertions
            .Expect(page.GetByRole(AriaRole.Heading, new() { NameRegex = new Regex("^Ready on ") }))
            .ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Owner_is_told_at_the_field_what_is_wrong_with_hours_and_loses_nothing()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync("/plan/hours");
        await page.GetByLabel("Saturday").First.FillAsync("9 till noon");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the shop's hours" }).ClickAsync();
        await Assertions.Expect(page.GetByText("'9' is not a span of hours").First).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Saturday").First).ToHaveValueAsync("9 till noon");
        await page.GetByLabel("Saturday").First.FillAsync("09:00-12:00");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the shop's hours" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Saved. The next plan goes by it.")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }
}
