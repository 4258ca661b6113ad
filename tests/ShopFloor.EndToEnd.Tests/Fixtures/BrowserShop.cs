using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>The whole program on a real port, with a SQLite database of its own, to be used by a browser. One for each test class (IClassFixture).</summary>
public abstract class BrowserShop : WebApplicationFactory<Program>, IAsyncLifetime
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-browser").FullName;
    private readonly int port = FreePort();
    private readonly Dictionary<string, string> signedIn = new(StringComparer.Ordinal);

    protected BrowserShop() => UseKestrel(port);

    /// <summary>Without a slash at its end; links in pages begin with it.</summary>
    public string Url => $"http://127.0.0.1:{port}";

    public IBrowser Browser { get; private set; } = null!;

    /// <summary>Password of everybody in this shop.</summary>
    public const string Password = "correct horse battery";

    /// <summary>Fills the empty database; the server runs already.</summary>
    protected abstract Task FillAsync(IServiceProvider services);

    public async ValueTask InitializeAsync()
    {
        Browser = await Browsers.GetAsync();
        StartServer();
        await using var scope = Services.CreateAsyncScope();
        await FillAsync(scope.ServiceProvider);
    }

    /// <summary>A page for somebody who is not signed in. Close its context at the end.</summary>
    public async Task<IPage> OpenAsync(Device device, ColorScheme scheme = ColorScheme.Light, string? state = null)
    {
        var context = await Browser.NewContextAsync(
            new()
            {
                BaseURL = Url,
                ViewportSize = new() { Width = device.Width, Height = device.Height },
                HasTouch = device.HasTouch,
                ColorScheme = scheme,
                Locale = "en-GB",
                TimezoneId = "Europe/London",
                ReducedMotion = ReducedMotion.Reduce,
                StorageState = state,
            }
        );
        context.SetDefaultTimeout(20_000);
        return await context.NewPageAsync();
    }

    /// <summary>A page for a person who signed in by the form (once; later pages take over the cookie).</summary>
    public async Task<IPage> OpenAsAsync(string email, Device device, ColorScheme scheme = ColorScheme.Light)
    {
        if (!signedIn.TryGetValue(email, out var state))
        {
            var page = await OpenAsync(Device.Desk);
            await page.GotoAsync("/sign-in");
            await page.GetByLabel("E-mail address").FillAsync(email);
            await page.GetByLabel("Password").FillAsync(Password);
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
            await Assertions.Expect(page).Not.ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/sign-in"));
            state = await page.Context.StorageStateAsync();
            signedIn[email] = state;
            await page.Context.CloseAsync();
        }

        return await OpenAsync(device, scheme, state);
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        // As run.sh starts it: not published, yet in Production.
        builder.UseEnvironment("Production");
        builder.UseSetting("SHOPFLOOR_DATA", folder);
        builder.UseSetting("SHOPFLOOR_PUBLIC_URL", Url);
        builder.UseSetting("SHOPFLOOR_DEMO_PASSWORD", Password);
        builder.UseSetting("Logging:LogLevel:Default", "Warning");
    }

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

/// <summary>Words that tests of pages share.</summary>
public static class PageWords
{
    /// <summary>Waits until a floor page counts by the server's clock, which the test may have moved: a start of hot work with an old time is refused.</summary>
    public static async Task ClockIsServersAsync(this IPage page)
    {
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected", new() { Timeout = 20_000 });
        await page.WaitForFunctionAsync(
            "() => Math.abs(Date.now() - Number(localStorage.getItem('shopfloor-clock') ?? 0) - Date.parse(document.querySelector('[data-now]').dataset.now)) < 60000"
        );
    }

    /// <summary>Goes to a page and, where it is interactive, waits until it is: clicks before that are lost.</summary>
    public static async Task OpenLiveAsync(this IPage page, string path)
    {
        await page.GotoAsync(path);
        if (await page.Locator("#mode").CountAsync() > 0)
        {
            await Assertions
                .Expect(page.Locator("#mode"))
                .ToHaveAttributeAsync("data-live", "yes", new() { Timeout = 30_000 });
        }
    }
}
