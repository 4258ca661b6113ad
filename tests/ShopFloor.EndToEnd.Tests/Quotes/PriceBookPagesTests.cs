using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Quotes;

/// <summary>The price book in a browser: its parts with everything opened on each screen, and a price changed by keyboard alone. With SHOPFLOOR_PICTURES=FOLDER also pictures, light and dark.</summary>
public sealed class PriceBookPagesTests(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    private static readonly string[] Pages =
    [
        "price-book",
        "price-book/editions",
        "price-book/compare?from=1&to=3",
        "price-book/files",
        "price-book/draft",
        "price-book/draft/terms",
        "price-book/draft/kits",
        "price-book/draft/hinge-options",
        "price-book/draft/skills",
        "price-book/draft/standards",
        "price-book/draft/questions",
        "price-book/draft/materials",
        "price-book/draft/outside-work",
        "price-book/draft/freight",
        "price-book/draft/taxes",
    ];

    [Fact]
    public async Task Every_part_fits_its_screen_when_all_of_it_is_open()
    {
        var wrong = new List<string>();
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Phone);
        page.PageError += (_, error) => wrong.Add(error);
        foreach (var path in Pages)
        {
            await page.OpenLiveAsync("/" + path);
            await page.EvaluateAsync("document.querySelectorAll('main details').forEach(d => d.open = true)");
            foreach (var device in Device.All)
            {
                await page.ShowOnAsync(device);
                wrong.AddRange(await page.WidthProblemsAsync(path, device));
                await TakeAsync(page, path, device);
            }

            wrong.AddRange((await page.BarriersAsync()).Select(b => $"{path}: {b}"));
        }

        await page.Context.CloseAsync();
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    [Fact]
    public async Task Price_is_changed_and_saved_by_keyboard_alone_and_a_slip_keeps_what_was_typed()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync("/price-book/draft/hinge-options");
        await TabToAsync(page, "e => e.matches('summary') && e.textContent.includes('swing-out with pin')");
        await page.Keyboard.PressAsync("Enter");
        await TabToAsync(page, "e => e.id === 'f-hingeOptions-1--priceMinor'");
        await page.Keyboard.TypeAsync("110,5O");
        await TabToAsync(page, "e => e.id === 'f-hingeOptions-1--costMinor'");
        await Expect(page.GetByText("'110,5O' is no amount")).ToBeVisibleAsync();
        await TabToAsync(page, "e => e.id === 'f-hingeOptions-1--priceMinor'", back: true);
        await Expect(page.Locator("#f-hingeOptions-1--priceMinor")).ToHaveValueAsync("110,5O");
        await page.Keyboard.TypeAsync("110.50");
        await TabToAsync(page, "e => e.textContent.trim() === 'Save the draft'", back: true);
        await Expect(page.GetByText("Not saved yet.")).ToBeVisibleAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByText("✓ Saved.")).ToBeVisibleAsync();

        await TabToAsync(page, "e => e.matches('a') && e.textContent.trim() === 'Overview'", back: true);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.GetByText("Hinge option swing-out with pin: price 105.00 → 110.50")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Leaving_with_something_typed_asks_first()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync("/price-book/draft/terms");
        await page.Locator("#f-promiseDays").FillAsync("33");
        await page.Locator("#f-promiseDays").BlurAsync();
        await Expect(page.GetByText("Not saved yet.")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Quotes" }).ClickAsync();
        await Expect(page.GetByText("What you typed is not saved yet.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Stay here" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Taxes", Exact = true }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("taxes");
        await page.GetByRole(AriaRole.Link, new() { Name = "Terms" }).ClickAsync();
        await Expect(page.Locator("#f-promiseDays")).ToHaveValueAsync("33");
        await page.Context.CloseAsync();
    }

    /// <summary>Presses Tab until the wanted element has the focus; text fields are selected whole, so that typing replaces them.</summary>
    private static async Task TabToAsync(IPage page, string wanted, bool back = false)
    {
        for (var i = 0; i < 200; i++)
        {
            await page.Keyboard.PressAsync(back ? "Shift+Tab" : "Tab");
            if (await page.EvaluateAsync<bool>($"({wanted})(document.activeElement)"))
            {
                return;
            }
        }

        Assert.Fail($"The focus never reached {wanted}.");
    }

    private static async Task TakeAsync(IPage page, string path, Device device)
    {
        if (Folder is null)
        {
            return;
        }

        foreach (var scheme in (ColorScheme[])[ColorScheme.Dark, ColorScheme.Light])
        {
            await page.EmulateMediaAsync(new() { ColorScheme = scheme });
            await page.SettleAsync();
            var name = $"{path.Split('?')[0].Replace('/', '-')}-open-{device.Name}-{scheme}.png".ToLowerInvariant();
            await page.ScreenshotAsync(
                new()
                {
                    Path = Path.Combine(Folder, name),
                    FullPage = true,
                    Animations = ScreenshotAnimations.Disabled,
                }
            );
        }
    }
}
