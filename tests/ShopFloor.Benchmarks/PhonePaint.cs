using Microsoft.Playwright;

namespace ShopFloor.Benchmarks;

/// <summary>
/// When the largest thing on a page stands there (Largest Contentful Paint, W3C), on a phone's screen with a slow mobile network and a slow processor: 150 ms there and back, 1.6 Mbit/s down,
/// 0.75 Mbit/s up, a quarter of this machine's speed. These are the figures that web page audits commonly call "slow 4G" (from memory).
/// </summary>
internal static class PhonePaint
{
    private const int Times = 11;

    private const string Largest = """
        () => new Promise(found => new PerformanceObserver(list => found(list.getEntries().at(-1).startTime))
          .observe({ type: 'largest-contentful-paint', buffered: true }))
        """;

    /// <summary>Milliseconds of each opening, the browser's memory empty each time; sorted.</summary>
    public static async Task<IReadOnlyList<double>> MeasureAsync(Uri page)
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("SHOPFLOOR_CHROMIUM") ?? "/usr/bin/chromium",
                Args = ["--no-sandbox"],
            }
        );
        var found = new List<double>();
        for (var n = 0; n < Times; n++)
        {
            await using var context = await browser.NewContextAsync(
                new()
                {
                    ViewportSize = new() { Width = 390, Height = 844 },
                    DeviceScaleFactor = 2,
                    IsMobile = true,
                    HasTouch = true,
                }
            );
            var phone = await context.NewPageAsync();
            await SlowDownAsync(await context.NewCDPSessionAsync(phone));
            await phone.GotoAsync(page.AbsoluteUri, new() { WaitUntil = WaitUntilState.Load });
            found.Add(await phone.EvaluateAsync<double>(Largest));
        }

        return [.. found.Order()];
    }

    private static async Task SlowDownAsync(ICDPSession session)
    {
        await session.SendAsync("Network.enable");
        await session.SendAsync(
            "Network.emulateNetworkConditions",
            new()
            {
                ["offline"] = false,
                ["latency"] = 150,
                ["downloadThroughput"] = 1_600_000 / 8,
                ["uploadThroughput"] = 750_000 / 8,
            }
        );
        await session.SendAsync("Emulation.setCPUThrottlingRate", new() { ["rate"] = 4 });
    }
}
