using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Data;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Pictures;

namespace ShopFloor.EndToEnd.Tests.Changes;

/// <summary>Change orders in a browser: offered and answered at the desk, read on every screen.</summary>
public sealed class ChangePagesTests(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task Change_order_is_written_offered_and_approved_and_the_job_says_what_it_comes_to()
    {
        var page = await shop.OpenAsAsync(DemoShop.FrontDesk, Device.Desk);
        await page.OpenLiveAsync(await PathAsync("/jobs/{JobId:guid}/change-orders/new"));
        await page.GetByLabel("Reason, in words").FillAsync("The left sill is cracked under the trim.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a line" }).ClickAsync();
        await page.GetByLabel("What it is").FillAsync("Sill section");
        await page.GetByLabel("Price each").FillAsync("45");
        await Assertions.Expect(page.GetByTestId("headline")).ToContainTextAsync("more");
        await TakeAsync(page, "change-new", Device.Desk, "light");
        await page.GetByRole(AriaRole.Button, new() { Name = "Offer to the customer" }).ClickAsync();
        await Assertions.Expect(page.GetByTestId("change-state")).ToContainTextAsync("waits for the customer");

        await page.GetByRole(AriaRole.Button, new() { Name = "Customer approves" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Say how the yes came")).ToBeVisibleAsync();
        await page.GetByLabel("Approved by").FillAsync("The owner of the car");
        await page.GetByText("by telephone", new() { Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Customer approves" }).ClickAsync();
        await Assertions.Expect(page.GetByTestId("change-state")).ToContainTextAsync("Approved");
        await page.GetByRole(AriaRole.Link, new() { Name = "J-2" }).First.ClickAsync();
        await Assertions.Expect(page.GetByTestId("agreed")).ToContainTextAsync("the job comes to");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Pages_fit_every_screen_light_and_dark_and_can_be_used_by_everybody()
    {
        string[] routes = ["/change-orders/{Id:guid}", "/jobs/{JobId:guid}/change-orders/new"];
        var wrong = new List<string>();
        var page = await shop.OpenAsAsync(DemoShop.FrontDesk, Device.Phone);
        foreach (var (i, route) in routes.Index())
        {
            await page.OpenLiveAsync(await PathAsync(route));
            await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
            if (i == 1)
            {
                await OpenAllAsync(page);
            }

            var name = i == 0 ? "change" : "change-edit";
            wrong.AddRange(
                await page.ProblemsOnEveryScreenAsync(
                    route,
                    (device, scheme) => TakeAsync(page, name, device, scheme.ToString())
                )
            );
        }

        await page.Context.CloseAsync();
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    /// <summary>Opens every part of the form, with a row in each list.</summary>
    private static async Task OpenAllAsync(IPage page)
    {
        await page.EvaluateAsync("document.querySelectorAll('main details').forEach(d => d.open = true)");
        foreach (var name in new[] { "Add work", "Add an operation", "Add a line to check", "Add a line" })
        {
            await page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();
        }

        await Assertions.Expect(page.GetByLabel("What is checked")).ToBeVisibleAsync();
    }

    private async Task<string> PathAsync(string route)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        return (await DemoPlaces.PathOfAsync(route, db, scope.ServiceProvider))!;
    }

    private static async Task TakeAsync(IPage page, string name, Device device, string scheme)
    {
        if (Folder is not null)
        {
            await page.ScreenshotAsync(
                new() { Path = Path.Combine(Folder, $"{name}-{device.Name}-{scheme}.png"), FullPage = true }
            );
        }
    }
}
