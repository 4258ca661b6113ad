using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>From the printed traveller back to the car's page, by the camera.</summary>
public sealed class ScanTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string Fabricator => StaffedShop.EmailOf(Role.Fabricator);

    [Fact]
    public async Task The_code_of_a_printed_traveller_before_the_camera_opens_its_car()
    {
        await shop.SignedJobAsync();
        var job = await shop.SignedJobAsync();
        var signedIn = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        var printed = await signedIn.Context.APIRequest.GetAsync($"/jobs/{job}/traveller/pdf");
        using var paper = await TravellerFilm.PageAsync(await printed.BodyAsync());
        Assert.Equal($"{shop.Url}/floor/jobs/{job}", TravellerFilm.Read(paper));

        var film = Path.Combine(Path.GetTempPath(), $"traveller-{job}.y4m");
        TravellerFilm.Write(paper, film);
        try
        {
            await using var browser = await Browsers.WithCameraAsync(film);
            await using var context = await browser.NewContextAsync(
                new() { BaseURL = shop.Url, StorageState = await signedIn.Context.StorageStateAsync() }
            );
            context.SetDefaultTimeout(Browsers.Patience);
            var page = await context.NewPageAsync();
            var refused = new List<string>();
            page.Console += (_, message) =>
            {
                if (message.Text.Contains("Content Security Policy", StringComparison.Ordinal))
                {
                    refused.Add(message.Text);
                }
            };
            await page.GotoAsync("/floor");
            await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
            await page.GetByRole(AriaRole.Button, new() { Name = "Scan with the camera" }).ClickAsync();

            await Assertions.Expect(page).ToHaveURLAsync(new Regex($"/floor/jobs/{job}$"));
            Assert.Empty(refused);
        }
        finally
        {
            File.Delete(film);
        }

        await signedIn.Context.CloseAsync();
    }

    [Fact]
    public async Task The_browsers_own_detector_is_used_where_there_is_one_and_the_dialog_can_be_used_by_everybody()
    {
        var job = await shop.SignedJobAsync();
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        // A camera that shows a plain canvas, and a detector that finds the code when the test says so.
        await page.AddInitScriptAsync(
            """
            const picture = document.createElement("canvas");
            picture.width = 64; picture.height = 48;
            setInterval(() => picture.getContext("2d").fillRect(0, 0, 64, 48), 50);
            Object.defineProperty(navigator.mediaDevices, "getUserMedia", { value: async () => (window.stream = picture.captureStream(10)) });
            window.BarcodeDetector = class {
              static getSupportedFormats = async () => ["qr_code"];
              detect = async () => (window.shown ? [{ rawValue: window.shown }] : []);
            };
            """
        );
        await page.GotoAsync("/floor");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.GetByRole(AriaRole.Button, new() { Name = "Scan with the camera" }).ClickAsync();
        await Assertions.Expect(page.Locator("#scan-said")).ToContainTextAsync("Hold the code");
        Assert.Empty(await page.BarriersAsync());
        await page.Locator("#scan-dialog").GetByRole(AriaRole.Button, new() { Name = "Back" }).ClickAsync();
        await page.WaitForFunctionAsync("() => window.stream.getTracks().every(t => t.readyState === 'ended')");

        await page.GetByRole(AriaRole.Button, new() { Name = "Scan with the camera" }).ClickAsync();
        await page.EvaluateAsync("code => (window.shown = code)", $"https://another.example/floor/jobs/{job}");

        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"/floor/jobs/{job}$"));
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_camera_that_is_refused_or_missing_is_said_in_a_sentence()
    {
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.AddInitScriptAsync(
            "Object.defineProperty(navigator.mediaDevices, 'getUserMedia', { value: async () => { throw new DOMException('no', 'NotAllowedError'); } });"
        );
        await page.GotoAsync("/floor");
        await Assertions.Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.GetByRole(AriaRole.Button, new() { Name = "Scan with the camera" }).ClickAsync();

        await Assertions.Expect(page.Locator("#scan-said")).ToContainTextAsync("The camera was not allowed");
        await page.Context.CloseAsync();
    }
}
