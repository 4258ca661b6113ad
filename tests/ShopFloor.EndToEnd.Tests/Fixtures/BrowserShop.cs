using System.Collections.Concurrent;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>The whole program on a real port, with a SQLite database of its own, to be used by a browser. One for each test class (IClassFixture).</summary>
public abstract class BrowserShop : WebApplicationFactory<Program>, IAsyncLifetime
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-browser").FullName;

    /// <summary>Where its data lie.</summary>
    public string Folder => folder;
    private readonly int port = Ports.Free();
    private readonly Dictionary<string, string> signedIn = new(StringComparer.Ordinal);
    private readonly ConcurrentQueue<IBrowserContext> opened = new();

    protected BrowserShop() => UseKestrel(port);

    /// <summary>Without a slash at its end; links in pages begin with it.</summary>
    public string Url => $"http://{HostName}:{port}";

    /// <summary>Under which name browsers reach it.</summary>
    protected virtual string HostName => "127.0.0.1";

    public IBrowser Browser { get; private set; } = null!;

    /// <summary>Password of everybody in this shop.</summary>
    public const string Password = "correct horse battery";

    /// <summary>Shops of one name begin with the same data: they are filled once in a test run and copied. Null for a shop that is filled each time.</summary>
    protected virtual string? Beginning => null;

    /// <summary>Fills the empty database; the server runs already.</summary>
    protected abstract Task FillAsync(IServiceProvider services);

    public async ValueTask InitializeAsync()
    {
        Browser = await Browsers.GetAsync();
        if (Beginning is null)
        {
            StartServer();
            await FillAsync();
        }
        else
        {
            await Beginnings.TakeAsync(Beginning, folder, StartServer, FillAsync);
        }

        // The first answer compiles half the program: no test should have to wait for that.
        using var client = new HttpClient { Timeout = TimeSpan.FromMinutes(5) };
        using var first = await client.GetAsync(new Uri(Url + "/sign-in"));
    }

    private async Task FillAsync()
    {
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
        opened.Enqueue(context);
        context.SetDefaultTimeout(Browsers.Patience);
        Browsers.SlowDown(context);
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
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
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
        builder.LogToFile($"{GetType().Name}:{port}");
    }

    public override async ValueTask DisposeAsync()
    {
        // Browsers leave before the server stops, also those of a test that failed.
        foreach (var context in opened)
        {
            await LeftOpen.NoteAsync(context, GetType().Name);
            await context.CloseAsync();
        }

        await base.DisposeAsync();
        Beginnings.Forget(folder);
        GC.SuppressFinalize(this);
    }
}
