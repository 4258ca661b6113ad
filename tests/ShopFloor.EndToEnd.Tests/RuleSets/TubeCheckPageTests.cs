using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.RuleSets;

/// <summary>A tube is held against a rule set in a real browser.</summary>
public sealed class TubeCheckPageTests(StaffedShop shop) : IClassFixture<StaffedShop>
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
            await page.ProblemsOnEveryScreenAsync("tube check", (device, scheme) => TakeAsync(page, device, scheme))
        );
        await page.Context.CloseAsync();
    }

    private static async Task TakeAsync(IPage page, Device device, ColorScheme scheme)
    {
        if (Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES") is { } folder)
        {
            await page.ScreenshotAsync(
                new() { Path = Path.Combine(folder, $"tube-check-{device.Name}-{scheme}.png"), FullPage = true }
            );
        }
    }
}
