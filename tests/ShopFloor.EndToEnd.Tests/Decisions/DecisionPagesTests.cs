using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Decisions;

/// <summary>The front desk makes a link, the customer decides on a phone without script. With SHOPFLOOR_PICTURES=FOLDER also pictures.</summary>
public sealed class DecisionPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task A_customer_chooses_between_two_offers_on_a_phone_without_script()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.ReadAsync($"/api/v1/jobs/{await desk.OpenAsync("Iris Holm")}");
        var plain = await SentAsync(desk, job, discountPercent: null);
        var reduced = await SentAsync(desk, job, discountPercent: 5);
        var office = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await office.OpenLiveAsync($"/quotes/{Text(plain, "id")}");
        await office.GetByLabel(Text(reduced, "number")).CheckAsync();
        await office
            .GetByRole(AriaRole.Button, new() { Name = "Make a link on which the customer decides" })
            .ClickAsync();
        var made = office.GetByTestId("link-once");
        await Expect(made.Locator("svg")).ToBeVisibleAsync();
        Assert.Empty(await office.BarriersAsync());
        await TakeAsync(office, "decision-office", Device.Desk, ColorScheme.Light);
        var address = new Uri((await made.Locator("a").GetAttributeAsync("href"))!).PathAndQuery;

        var seen = await shop.OpenAsync(Device.Phone);
        await seen.GotoAsync(address);
        Assert.Empty(
            await seen.ProblemsOnEveryScreenAsync("decision-quotes", (d, c) => TakeAsync(seen, "decision-quotes", d, c))
        );
        Assert.Empty(await seen.Context.CookiesAsync());
        await seen.Context.CloseAsync();

        var phone = await WithoutScriptAsync(address);
        await phone.GetByText("What makes up the price").First.ClickAsync();
        await phone.GetByText("Ask a question").ClickAsync();
        await phone.GetByLabel("Your question").FillAsync("May I watch?");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Ask the shop" }).ClickAsync();
        await Expect(phone.GetByText("Your question is with us")).ToBeVisibleAsync();
        await phone.GetByRole(AriaRole.Radio).Nth(1).CheckAsync();
        await phone.GetByLabel("Your name").FillAsync("Iris Holm");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Accept the chosen offer" }).ClickAsync();
        await Expect(phone.GetByText("You said yes")).ToBeVisibleAsync();
        await Expect(phone.GetByLabel("Your name")).ToHaveCountAsync(0);
        await phone.Context.CloseAsync();

        await Expect(office.GetByText("the customer said yes")).ToBeVisibleAsync();
        Assert.Equal("accepted", Text(await desk.ReadAsync($"/api/v1/quotes/{Text(reduced, "id")}"), "state"));
        await office.OpenLiveAsync("/");
        var words = office.GetByTestId("customer-words").Locator("li").Filter(new() { HasText = "May I watch?" });
        await words.GetByLabel("What you answered").FillAsync("Yes, from the door.");
        Assert.Empty(await office.BarriersAsync());
        await words.GetByRole(AriaRole.Button, new() { Name = "Dealt with" }).ClickAsync();
        await Expect(words).ToHaveCountAsync(0);
        await office.Context.CloseAsync();
    }

    [Fact]
    public async Task A_change_and_a_part_are_answered_on_a_phone_and_a_link_taken_back_opens_nothing()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Ebba Ruiz");
        var draft = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            new
            {
                reason = "The sill is cracked under the trim.",
                lines = new[]
                {
                    new
                    {
                        description = "Sill section",
                        quantity = 1,
                        unitPriceMinor = 4_500,
                        taxCodes = new[] { "goods" },
                    },
                },
                promiseDays = 2,
            }
        );
        await desk.PostAsync($"/api/v1/change-orders/{Text(draft, "id")}/offer", null);
        var link = await LinkAsync(desk, "change", Text(draft, "id"));
        var seen = await shop.OpenAsync(Device.Phone);
        await seen.GotoAsync(link);
        Assert.Empty(
            await seen.ProblemsOnEveryScreenAsync("decision-change", (d, c) => TakeAsync(seen, "decision-change", d, c))
        );
        await seen.GetByRole(AriaRole.Link, new() { Name = "Deutsch" }).ClickAsync();
        await Expect(seen.GetByLabel("Ihr Name")).ToBeVisibleAsync();
        Assert.Empty(
            await seen.ProblemsOnEveryScreenAsync("decision-german", (d, c) => TakeAsync(seen, "decision-german", d, c))
        );
        // The language chosen on the page stays with the answer, also without script.
        var phone = await WithoutScriptAsync(link);
        await phone.GetByRole(AriaRole.Link, new() { Name = "Deutsch" }).ClickAsync();
        await phone.GetByLabel("Ihr Name").FillAsync("Ebba Ruiz");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Diese Änderung freigeben" }).ClickAsync();
        await Expect(phone.GetByText("Sie haben am")).ToBeVisibleAsync();
        await Expect(phone.Locator("html")).ToHaveAttributeAsync("lang", "de");
        var progress = await desk.PostAsync($"/api/v1/jobs/{job}/progress-links", new { });
        await phone.GotoAsync(new Uri(Text(progress, "url")).PathAndQuery);
        await phone.GetByRole(AriaRole.Link, new() { Name = "Deutsch" }).ClickAsync();
        await Expect(phone.GetByRole(AriaRole.Heading, new() { Name = "Der Weg durch die Werkstatt" }))
            .ToBeVisibleAsync();
        await seen.GotoAsync($"{new Uri(Text(progress, "url")).PathAndQuery}?lang=de");
        Assert.Empty(await seen.BarriersAsync());
        Assert.Equal("approved", Text(await desk.ReadAsync($"/api/v1/change-orders/{Text(draft, "id")}"), "state"));

        var today = DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().DateTime);
        var part = await desk.PostAsync(
            $"/api/v1/jobs/{job}/customer-parts",
            new { what = "Door panels", dueOn = today.AddDays(4) }
        );
        link = await LinkAsync(desk, "partDay", Text(part, "id"));
        await seen.GotoAsync(link);
        Assert.Empty(
            await seen.ProblemsOnEveryScreenAsync("decision-part", (d, c) => TakeAsync(seen, "decision-part", d, c))
        );
        await phone.GotoAsync(link);
        await phone
            .GetByLabel("They come on")
            .FillAsync(today.AddDays(12).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await phone.GetByLabel("Your name").FillAsync("Ebba Ruiz");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Tell the shop this day" }).ClickAsync();
        await Expect(phone.GetByText("We plan with that day")).ToBeVisibleAsync();
        await phone.Context.CloseAsync();
        await seen.Context.CloseAsync();

        var office = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await office.OpenLiveAsync($"/jobs/{job}");
        await office.GetByRole(AriaRole.Button, new() { Name = "Link to ask for the day" }).ClickAsync();
        var made = office.GetByTestId("link-once");
        var address = new Uri((await made.Locator("a").GetAttributeAsync("href"))!).PathAndQuery;
        await office
            .GetByRole(AriaRole.Region, new() { Name = "The customer's own parts" })
            .GetByRole(AriaRole.Button, new() { Name = "Revoke" })
            .ClickAsync();
        await Expect(made).ToHaveCountAsync(0);
        var gone = await shop.OpenAsync(Device.Phone);
        await gone.GotoAsync(address);
        await Expect(gone.GetByRole(AriaRole.Heading, new() { Name = "There is nothing here" })).ToBeVisibleAsync();
        await gone.Context.CloseAsync();
        await office.Context.CloseAsync();
    }

    private async Task<IPage> WithoutScriptAsync(string address)
    {
        var context = await shop.Browser.NewContextAsync(
            new()
            {
                BaseURL = shop.Url,
                JavaScriptEnabled = false,
                ViewportSize = new() { Width = 390, Height = 844 },
            }
        );
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        return page;
    }

    private static async Task<JsonElement> SentAsync(DeskJob desk, JsonElement job, decimal? discountPercent)
    {
        var draft = await desk.PostAsync(
            "/api/v1/quotes",
            new
            {
                customerId = Text(job, "customerId"),
                carId = Text(job, "carId"),
                kitCode = "six-point-weld-in",
                useCode = "street",
                ruleSetCodes = Array.Empty<string>(),
                doors = new[] { new { door = "left", hingeOptionCode = "swing-out-pin" } },
                condition = new { rust = "light" },
                discountPercent,
            }
        );
        return await desk.PostAsync($"/api/v1/quotes/{Text(draft, "id")}/send", null);
    }

    private static async Task<string> LinkAsync(DeskJob desk, string kind, string subject) =>
        new Uri(
            Text(await desk.PostAsync("/api/v1/decision-links", new { kind, subjects = new[] { subject } }), "url")
        ).PathAndQuery;

    private static string Text(JsonElement element, string property) => element.GetProperty(property).GetString()!;

    private static async Task TakeAsync(IPage page, string name, Device device, ColorScheme scheme)
    {
        if (Folder is not null)
        {
            var file = $"{name}-{device.Name}-{scheme.ToString().ToLowerInvariant()}.png";
            await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, file), FullPage = true });
        }
    }
}
