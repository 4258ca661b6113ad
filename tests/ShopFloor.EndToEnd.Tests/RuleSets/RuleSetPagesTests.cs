using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.RuleSets;

/// <summary>Rule sets in a real browser: a tube is held against one, the owner copies and changes one.</summary>
public sealed class RuleSetPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task An_inch_tube_is_compared_with_inch_sizes_only_and_nothing_typed_is_lost_on_a_refusal()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await page.OpenLiveAsync("/rule-sets/motorsport-uk-ncr-2026");
        await page.GetByRole(AriaRole.Link, new() { Name = "Hold a tube against these sizes" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Tube check");
        await page.Locator("#ordered-diameter").FillAsync("44.45");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare" }).ClickAsync();
        await Assertions.Expect(page.GetByText("The wall is needed.").First).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("#ordered-diameter")).ToHaveValueAsync("44.45");

        await page.Locator("#ordered-wall").FillAsync("2.413");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare" }).ClickAsync();
        var answer = page.GetByTestId("tube-answer");
        await Assertions.Expect(answer.Locator("h2").First).ToContainTextAsync("Not as printed");

        await page.GetByText("Inches", new() { Exact = true }).ClickAsync();
        await page.Locator("#ordered-diameter").FillAsync("1.75");
        await page.Locator("#ordered-wall").FillAsync("0.095");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare" }).ClickAsync();
        await Assertions.Expect(answer.Locator("h2").First).ToContainTextAsync("Not shown yet");
        await Assertions.Expect(answer).ToContainTextAsync("1.75 × 0.095 in is printed");
        await Assertions.Expect(answer).ToContainTextAsync("the scrutineer decides");
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(
                "tube check",
                (device, scheme) => TakeAsync(page, "tube-check", device, scheme)
            )
        );
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task The_owner_copies_a_set_is_told_at_the_field_what_is_wrong_and_sees_what_differs()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await page.OpenLiveAsync("/rule-sets");
        await SeeAsync(page, "rule-sets");
        await page.OpenLiveAsync("/rule-sets/house-street");
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy to edit" }).ClickAsync();
        await Assertions
            .Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 }))
            .ToHaveTextAsync("Change figures: House rules, street car (own copy)");

        await page.GetByRole(AriaRole.Button, new() { Name = "Door bar near the door panel" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Code", new() { Exact = true })).ToHaveValueAsync("door-bar-gap");
        await page.GetByLabel("Figure with its unit, as printed").FillAsync("5 to 25 mm");
        await page.Locator("#figure-lower").FillAsync("five");
        await page.GetByRole(AriaRole.Button, new() { Name = "Hoop out of upright" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Not saved yet: Least")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("#figure-lower")).ToHaveValueAsync("five");
        await page.Locator("#figure-lower").FillAsync("50");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save as version 2" }).ClickAsync();
        await Assertions
            .Expect(page.GetByRole(AriaRole.Alert).First)
            .ToContainTextAsync("The lower limit 50 lies above the upper limit 25.");
        await Assertions.Expect(page.GetByLabel("Figure with its unit, as printed")).ToHaveValueAsync("5 to 25 mm");
        await SeeAsync(page, "rule-set-edit");
        await page.Locator("#figure-lower").FillAsync("5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Bare, bright metal" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Code", new() { Exact = true })).ToHaveValueAsync("bare-metal");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take this figure out" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Taken out: Bare, bright metal")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save as version 2" }).ClickAsync();

        await Assertions.Expect(page.GetByTestId("versions").Locator("li")).ToHaveCountAsync(2);
        // What was said in passing is gone on a page that is opened anew.
        await page.OpenLiveAsync(page.Url);
        await SeeAsync(page, "rule-set");
        await page.GetByRole(AriaRole.Link, new() { Name = "Compare with version 1" }).ClickAsync();
        await Assertions.Expect(page.GetByTestId("sentences").Locator("li")).ToHaveCountAsync(2);
        await Assertions.Expect(page.GetByTestId("sentences")).ToContainTextAsync("3 to 25 mm → 5 to 25 mm");
        await Assertions.Expect(page.GetByTestId("rules-advice")).ToContainTextAsync("the scrutineer decides");
        await SeeAsync(page, "rule-set-compare");
        await page.Context.CloseAsync();
    }

    private static async Task SeeAsync(IPage page, string name) =>
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(name, (device, scheme) => TakeAsync(page, name, device, scheme))
        );

    private static async Task TakeAsync(IPage page, string name, Device device, ColorScheme scheme)
    {
        if (Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES") is { } folder)
        {
            await page.ScreenshotAsync(
                new() { Path = Path.Combine(folder, $"{name}-{device.Name}-{scheme}.png"), FullPage = true }
            );
        }
    }
}
