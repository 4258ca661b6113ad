using System.Globalization;
using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;

[assembly: AssemblyFixture(typeof(Browsers))]

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>The one browser of a test run; each test takes contexts of its own from it. The browser starts when the first test asks.</summary>
public sealed class Browsers : IAsyncDisposable
{
    private static readonly SemaphoreSlim Gate = new(1, 1);
    private static IPlaywright? playwright;
    private static IBrowser? browser;

    /// <summary>How long anything in a browser is waited for, in milliseconds. The cores may be busy with other tests, and a wait that is answered early costs nothing: no statement about speed.</summary>
    public const int Patience = 60_000;

    /// <summary>Debian's Chromium, or the one named by SHOPFLOOR_CHROMIUM.</summary>
    private static string Executable => Environment.GetEnvironmentVariable("SHOPFLOOR_CHROMIUM") ?? "/usr/bin/chromium";

    /// <summary>Containers often give /dev/shm 64 MB, too little for a browser, which then takes the slower way over files.</summary>
    private static string[] SharedMemory =>
        Directory.Exists("/dev/shm") && new DriveInfo("/dev/shm").AvailableFreeSpace > 1L << 30
            ? []
            : ["--disable-dev-shm-usage"];

    public static async Task<IBrowser> GetAsync()
    {
        await Gate.WaitAsync();
        try
        {
            if (browser is null)
            {
                if (!File.Exists(Executable))
                {
                    throw new InvalidOperationException(
                        $"No browser at {Executable}: run ./test.sh, which installs it, or set SHOPFLOOR_CHROMIUM."
                    );
                }

                Assertions.SetDefaultExpectTimeout(Patience);
                playwright = await Playwright.CreateAsync();
                browser = await LaunchAsync();
            }

            return browser;
        }
        finally
        {
            Gate.Release();
        }
    }

    /// <summary>A browser of its own whose camera shows a film; the caller disposes of it.</summary>
    /// <param name="film">A file in the format Y4M.</param>
    public static async Task<IBrowser> WithCameraAsync(string film)
    {
        await GetAsync();
        return await LaunchAsync(
            "--use-fake-ui-for-media-stream",
            "--use-fake-device-for-media-stream",
            $"--use-file-for-fake-video-capture={film}"
        );
    }

    /// <summary>Makes the scripts of every page of a context so many times slower as SHOPFLOOR_SLOW_PAGES says (none: as they are): shows which test and which page depends on a quick machine.</summary>
    public static void SlowDown(IBrowserContext context)
    {
        if (
            double.TryParse(
                Environment.GetEnvironmentVariable("SHOPFLOOR_SLOW_PAGES"),
                CultureInfo.InvariantCulture,
                out var times
            )
        )
        {
            context.Page += async (_, page) =>
            {
                try
                {
                    var session = await context.NewCDPSessionAsync(page);
                    await session.SendAsync(
                        "Emulation.setCPUThrottlingRate",
                        new Dictionary<string, object> { ["rate"] = times }
                    );
                }
                catch (PlaywrightException)
                {
                    // The page was closed at once: there is nothing to slow down.
                }
            };
        }
    }

    private static Task<IBrowser> LaunchAsync(params string[] besides) =>
        playwright!.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Executable,
                Headless = true,
                Args = ["--no-sandbox", .. SharedMemory, .. besides],
            }
        );

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
        {
            await browser.DisposeAsync();
            playwright?.Dispose();
        }
    }
}
