using Microsoft.Playwright;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>Words that tests of pages share.</summary>
public static class PageWords
{
    /// <summary>Waits until a floor page counts by the server's clock, which the test may have moved: a start of hot work with an old time is refused.</summary>
    public static async Task ClockIsServersAsync(this IPage page)
    {
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.WaitForFunctionAsync(
            "() => Math.abs(Date.now() - Number(localStorage.getItem('shopfloor-clock') ?? 0) - Date.parse(document.querySelector('[data-now]').dataset.now)) < 60000"
        );
    }

    /// <summary>Goes to a page and, where it is interactive, waits until it is and shows its content: clicks before that are lost.</summary>
    public static async Task OpenLiveAsync(this IPage page, string path)
    {
        await page.GotoAsync(path);
        if (await page.Locator("#mode").CountAsync() > 0)
        {
            await page.IsLiveAsync();
        }
    }

    /// <summary>Waits until an interactive page is connected and shows its content.</summary>
    public static Task IsLiveAsync(this IPage page) =>
        Assertions.Expect(page.Locator("#mode[data-live=yes]:not(:has(.mud-skeleton))")).ToBeAttachedAsync();

    /// <summary>Signs on the pad, once the pad listens and no picture moves it any more.</summary>
    public static async Task DrawSignatureAsync(this IPage page)
    {
        var pad = page.Locator("canvas.pad[data-listens]");
        await pad.ScrollIntoViewIfNeededAsync();
        await page.WaitForFunctionAsync("() => [...document.images].every(i => i.complete)");
        // Waits until the pad stands still.
        await pad.HoverAsync(
            new()
            {
                Position = new() { X = 40, Y = 60 },
            }
        );
        var box = (await pad.BoundingBoxAsync())!;
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 200, box.Y + 100, new() { Steps = 8 });
        await page.Mouse.MoveAsync(box.X + 260, box.Y + 40, new() { Steps = 6 });
        await page.Mouse.UpAsync();
    }
}
