using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Pictures;

/// <summary>Opens every page of the demo shop on a phone, a tablet and a desk. With SHOPFLOOR_PICTURES=FOLDER it also writes a picture of each, light and dark:
/// <c>SHOPFLOOR_PICTURES=$PWD/docs/pictures dotnet test --project tests/ShopFloor.EndToEnd.Tests --filter-class "*PagePictures"</c>.</summary>
public sealed class PagePictures(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    public static TheoryData<string> Devices => [.. Device.All.Select(d => d.Name)];

    [Theory]
    [MemberData(nameof(Devices))]
    public async Task Every_page_fits_its_screen_and_reports_no_error(string deviceName)
    {
        var device = Device.All.Single(d => d.Name == deviceName);
        var pages = await PageList.AllAsync(shop);
        var wrong = new List<string>();
        foreach (var scheme in Folder is null ? [ColorScheme.Light] : new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            foreach (var viewer in pages.GroupBy(p => p.Email))
            {
                var page = viewer.Key is { } email
                    ? await shop.OpenAsAsync(email, device, scheme)
                    : await shop.OpenAsync(device, scheme);
                var errors = new List<string>();
                page.Console += (_, message) => errors.AddRange(message.Type == "error" ? [message.Text] : []);
                page.PageError += (_, error) => errors.Add(error);
                foreach (var toSee in viewer)
                {
                    errors.Clear();
                    await page.OpenLiveAsync(toSee.Path);
                    await page.WaitForLoadStateAsync(LoadState.Load);
                    wrong.AddRange(await ProblemsAsync(page, toSee, device, errors));
                    await TakeAsync(page, toSee, device, scheme);
                }

                await page.Context.CloseAsync();
            }
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static async Task<List<string>> ProblemsAsync(
        IPage page,
        PageToSee toSee,
        Device device,
        List<string> errors
    )
    {
        var found = errors.Select(e => $"{toSee.Path} at {device.Width}: {e}").ToList();
        var width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
        if (width > device.Width)
        {
            found.Add($"{toSee.Path} at {device.Width}: the page is {width} px wide and must be scrolled sideways.");
        }

        if (await page.GetByRole(AriaRole.Heading, new() { Level = 1 }).CountAsync() != 1)
        {
            found.Add($"{toSee.Path} at {device.Width}: a page has one heading of the first level.");
        }

        return found;
    }

    private static async Task TakeAsync(IPage page, PageToSee toSee, Device device, ColorScheme scheme)
    {
        if (Folder is null)
        {
            return;
        }

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
