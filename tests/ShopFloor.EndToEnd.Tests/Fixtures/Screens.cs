using System.Globalization;
using Microsoft.Playwright;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>Looks at an open page on every screen, light and dark, without loading it anew: its window changes its size, its system its colours. On a tablet it is laid out as on a desk, so that axe looks at phone and desk; colours are those of the scheme, whatever the width.</summary>
public static class Screens
{
    /// <summary>The first elements that reach beyond the screen, except in what scrolls by itself.</summary>
    private const string TooWide = """
        [...document.querySelectorAll('body *')]
          .filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.table-wrap, .network'))
          .slice(0, 4).map(e => e.outerHTML.slice(0, 150)).join(' || ')
        """;

    /// <summary>What is wrong with the page on any screen: sideways scrolling and what axe finds.</summary>
    /// <param name="page">An open page.</param>
    /// <param name="name">How the page is called in what is reported.</param>
    /// <param name="look">Called for each screen and scheme, for instance to take a picture.</param>
    public static async Task<List<string>> ProblemsOnEveryScreenAsync(
        this IPage page,
        string name,
        Func<Device, ColorScheme, Task>? look = null
    )
    {
        var wrong = new List<string>();
        foreach (var device in Device.All)
        {
            await page.ShowOnAsync(device);
            wrong.AddRange(await page.WidthProblemsAsync(name, device));
            foreach (var scheme in (ColorScheme[])[ColorScheme.Light, ColorScheme.Dark])
            {
                var isDark = scheme == ColorScheme.Dark;
                if (isDark && look is null && device != Device.Phone)
                {
                    continue;
                }

                await page.EmulateMediaAsync(new() { ColorScheme = scheme });
                if (device == Device.Phone || (device == Device.Desk && !isDark))
                {
                    var found = await page.BarriersAsync(coloursOnly: isDark);
                    wrong.AddRange(found.Select(f => $"{name} on the {device.Name}, {scheme}: {f}"));
                }

                await (look?.Invoke(device, scheme) ?? Task.CompletedTask);
            }
        }

        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        return wrong;
    }

    /// <summary>Gives the page's window another size.</summary>
    public static Task ShowOnAsync(this IPage page, Device device) =>
        page.SetViewportSizeAsync(device.Width, device.Height);

    /// <summary>Says what is wider than the screen, where the page must be scrolled sideways.</summary>
    public static async Task<string[]> WidthProblemsAsync(this IPage page, string name, Device device)
    {
        try
        {
            // The menu follows the window's size by a script: wait for it.
            await page.WaitForFunctionAsync(
                "width => innerWidth === width && document.documentElement.scrollWidth <= width",
                device.Width,
                new() { Timeout = 10_000 }
            );
            return [];
        }
        catch (TimeoutException)
        {
            var width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
            var what = await page.EvaluateAsync<string>(TooWide);
            return
            [
                string.Create(CultureInfo.InvariantCulture, $"{name} is {width} px wide at {device.Width}: {what}"),
            ];
        }
    }
}
