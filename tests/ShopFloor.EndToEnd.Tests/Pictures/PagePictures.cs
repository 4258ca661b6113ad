using System.Collections.Concurrent;
using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Pictures;

/// <summary>Opens every page of the demo shop on a phone, a tablet and a desk. With SHOPFLOOR_PICTURES=FOLDER it also writes a picture of each, light and dark:
/// <c>SHOPFLOOR_PICTURES=$PWD/docs/pictures dotnet test --project tests/ShopFloor.EndToEnd.Tests --filter-class "*PagePictures"</c>.</summary>
public sealed class PagePictures(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task Every_page_fits_every_screen_and_reports_no_error()
    {
        var pages = await PageList.AllAsync(shop);
        var wrong = new List<string>();
        foreach (var viewer in pages.GroupBy(p => p.Email))
        {
            var page = viewer.Key is { } email
                ? await shop.OpenAsAsync(email, Device.Phone)
                : await shop.OpenAsync(Device.Phone);
            var errors = new ConcurrentQueue<string>();
            page.Console += (_, message) => Keep(message.Type == "error" ? message.Text : null);
            page.PageError += (_, error) => Keep(error);
            // What the page before says while it is left is no error of the next.
            page.FrameNavigated += (_, _) => errors.Clear();
            foreach (var toSee in viewer)
            {
                await page.ShowOnAsync(Device.Phone);
                await page.OpenLiveAsync(toSee.Path);
                wrong.AddRange(await HeadingProblemsAsync(page, toSee));
                foreach (var device in Device.All)
                {
                    await page.ShowOnAsync(device);
                    wrong.AddRange(await page.WidthProblemsAsync(toSee.Path, device));
                    await TakeAsync(page, toSee, device);
                }

                wrong.AddRange(errors.Select(e => $"{toSee.Path}: {e}"));
            }

            await page.Context.CloseAsync();

            void Keep(string? error)
            {
                if (error is not null)
                {
                    errors.Enqueue(error);
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static async Task<string[]> HeadingProblemsAsync(IPage page, PageToSee toSee)
    {
        try
        {
            await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveCountAsync(1);
            return [];
        }
        catch (PlaywrightException problem)
        {
            return [$"{toSee.Path}: a page has one heading of the first level. {problem.Message}"];
        }
    }

    private static async Task TakeAsync(IPage page, PageToSee toSee, Device device)
    {
        if (Folder is null)
        {
            return;
        }

        foreach (var scheme in (ColorScheme[])[ColorScheme.Dark, ColorScheme.Light])
        {
            await page.EmulateMediaAsync(new() { ColorScheme = scheme });
            await page.SettleAsync();
            var name = $"{toSee.Name}-{device.Name}-{(scheme == ColorScheme.Dark ? "dark" : "light")}.png";
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
