using System.Net.Http.Headers;
using Microsoft.Playwright;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using ShopFloor.Web.Tests.Drills;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>The server as a process of its own, killed with SIGKILL under an open tablet page.</summary>
public sealed class KilledServerTests
{
    private const string Email = "o@shop.example";
    private const string Password = "a long password";

    [Fact]
    public async Task A_tap_made_while_the_server_is_down_is_applied_once_when_it_returns()
    {
        await using var server = new RealServer(null);
        await server.StartAsync();
        using var client = await SetUpAsync(server);
        var desk = new DeskJob(client);
        var (job, page) = await OpenCarAsync(server, desk);

        await server.KillAsync();
        await page.Locator("button[data-tap=start][data-code='10']").ClickAsync();
        await Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");

        await server.StartAsync();
        await Expect(page.Locator("#outbox"))
            .ToHaveAttributeAsync("data-count", "0", new() { Timeout = 3 * Browsers.Patience });
        await Expect(page.Locator(".op[data-section=running]")).ToContainTextAsync("Olga Owner");
        Assert.Equal(1, await EventsAsync(desk, "operation.started"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Words_being_typed_while_the_server_restarts_stay_and_are_sent()
    {
        await using var server = new RealServer(null);
        await server.StartAsync();
        using var client = await SetUpAsync(server);
        var desk = new DeskJob(client);
        var (_, page) = await OpenCarAsync(server, desk);
        await page.GetByRole(AriaRole.Button, new() { Name = "Hold" }).First.ClickAsync();
        await page.GetByText("A defect was found").ClickAsync();
        var words = page.GetByLabel("In your words");
        await words.PressSequentiallyAsync("rust at ");

        await server.KillAsync();
        await words.PressSequentiallyAsync("the left ");
        await server.StartAsync();
        await Expect(page.Locator("#link-state"))
            .ToHaveTextAsync("Connected", new() { Timeout = 3 * Browsers.Patience });
        await words.PressSequentiallyAsync("sill");

        await Expect(words).ToHaveValueAsync("rust at the left sill");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put on hold" }).ClickAsync();
        await Expect(page.Locator(".op[data-section=held]")).ToContainTextAsync("rust at the left sill");
        Assert.Equal(1, await EventsAsync(desk, "operation.held"));
        await page.Context.CloseAsync();
    }

    /// <summary>A car with the customer's signature, open on a tablet.</summary>
    private static async Task<(string Job, IPage Page)> OpenCarAsync(RealServer server, DeskJob desk)
    {
        var job = await desk.OpenAsync("Tap Kept");
        await desk.PutAsync(
            $"/api/v1/jobs/{job}/drop-off",
            new
            {
                odometerKm = 1000,
                warningLights = Array.Empty<string>(),
                fuelPercent = 40,
                keys = 1,
                conditionFound = new { floor = "sound" },
                staysFitted = Array.Empty<string>(),
                inTheCar = Array.Empty<string>(),
                battery = "good",
                photoConsent = "refused",
            }
        );
        await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Tap Kept" } }
        );

        var context = await (await Browsers.GetAsync()).NewContextAsync(new() { BaseURL = server.Url });
        context.SetDefaultTimeout(Browsers.Patience);
        var page = await context.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("E-mail address").FillAsync(Email);
        await page.GetByLabel("Password").FillAsync(Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();
        await Expect(page).Not.ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/sign-in"));
        await page.GotoAsync($"/floor/jobs/{job}");
        await Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        return (job, page);
    }

    private static async Task<int> EventsAsync(DeskJob desk, string type) =>
        (await desk.ReadAsync("/api/v1/events?after=0"))
            .GetProperty("items")
            .EnumerateArray()
            .Count(e => e.GetProperty("type").GetString() == type);

    private static async Task<HttpClient> SetUpAsync(RealServer server)
    {
        await RunAsync(
            "shop",
            "create",
            "--name",
            "Drill",
            "--currency",
            "EUR",
            "--time-zone",
            "Europe/Berlin",
            "--length-unit",
            "mm"
        );
        var owner = await server.AdminAsync(["owner", "create", "--email", Email, "--name", "Olga Owner"], Password);
        Assert.True(owner.Code == 0, owner.Error);
        var key = await RunAsync("api-key", "create", "--name", "drill", "--role", "owner", "--user", Email);
        var client = new HttpClient { BaseAddress = new Uri(server.Url) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(
            "Bearer",
            key.TrimEnd().Split('\n')[^1]
        );
        return client;

        async Task<string> RunAsync(params string[] command)
        {
            var (code, output, error) = await server.AdminAsync(command);
            Assert.True(code == 0, error);
            return output;
        }
    }
}
