using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Story;

/// <summary>One car through the whole shop in the browser, as four people: front desk at a PC, fabricator and inspector at tablets, customer at a phone, owner on Monday.</summary>
public sealed class OneCarTests(StoryShop shop) : IClassFixture<StoryShop>
{
    private const string Customer = "Maren Holt";

    [Fact]
    public async Task A_car_goes_from_the_counter_to_the_hand_over_in_the_browser()
    {
        var api = await DeskJob.AtAsync(shop);
        var desk = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await QuoteAtTheCounterAsync(desk);
        var job = await OpenJobAsync(desk);
        await BookInAsync(desk, job);
        var address = await ShareAsync(desk, job);
        await WorkAsync(api, job);
        shop.Clock.Advance(TimeSpan.FromMinutes(61));
        await shop.ClosePermitsAsync();
        await PayAsync(desk, job);
        await WriteDownMaterialAsync(job);
        await SignOffAsync(job);
        await CollectAsync(desk, job);
        await LookBackAsync(desk, job, address);
        await desk.Context.CloseAsync();
    }

    private static async Task QuoteAtTheCounterAsync(IPage desk)
    {
        await desk.OpenLiveAsync("/quotes/new");
        await Button(desk, "New customer").ClickAsync();
        var customer = desk.GetByRole(AriaRole.Group, new() { Name = "New customer" });
        await customer.GetByLabel("Name").FillAsync(Customer);
        await customer.GetByLabel("E-mail address").FillAsync("maren@example.com");
        await customer.GetByLabel("Address", new() { Exact = true }).FillAsync("2 Mill Row");
        await Button(desk, "Add customer").ClickAsync();
        // With no car yet, the form for one opens by itself.
        var car = desk.GetByRole(AriaRole.Group, new() { Name = "New car" });
        await car.GetByLabel("Make").FillAsync("Corvane");
        await car.GetByLabel("Model", new() { Exact = true }).FillAsync("Tarn");
        await car.GetByLabel("Model year").FillAsync("2024");
        await car.GetByLabel("Chassis number (VIN)").FillAsync("1X9TEST01RT000001");
        await Button(desk, "Add car").ClickAsync();
        await Expect(desk.GetByRole(AriaRole.Group, new() { Name = "Car", Exact = true })).ToBeVisibleAsync();

        // A six-point bar; the price follows each answer without a button.
        await desk.GetByLabel("Six-point", new() { Exact = false }).First.CheckAsync();
        await Expect(desk.GetByTestId("headline")).ToContainTextAsync("Priced");
        var before = await desk.GetByTestId("headline").InnerTextAsync();
        await desk.GetByRole(AriaRole.Group, new() { Name = "Rust" })
            .GetByLabel("Heavy", new() { Exact = false })
            .CheckAsync();
        await Expect(desk.GetByTestId("headline")).Not.ToHaveTextAsync(before, new() { UseInnerText = true });
        await Button(desk, "Send").ClickAsync();
        await desk.GetByLabel("Accepted by (name)").FillAsync(Customer);
        await Button(desk, "Customer accepts").ClickAsync();
        await Expect(desk.GetByText("✓ Accepted by")).ToBeVisibleAsync();
    }

    private static async Task<string> OpenJobAsync(IPage desk)
    {
        await Button(desk, "Open the job").ClickAsync();
        await desk.WaitForURLAsync(new Regex("/jobs/[0-9a-f-]{36}$"));
        await Expect(desk.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("Tarn");
        return desk.Url[^36..];
    }

    private static async Task BookInAsync(IPage desk, string job)
    {
        await desk.OpenLiveAsync($"/jobs/{job}/drop-off");
        await desk.GetByLabel("Odometer, km").FillAsync("42010");
        await desk.GetByLabel("None is lit").CheckAsync();
        await desk.GetByRole(AriaRole.Group, new() { Name = "Fuel level" }).GetByLabel("½").CheckAsync();
        await desk.GetByRole(AriaRole.Group, new() { Name = "Battery, 12 V" }).GetByLabel("Good").CheckAsync();
        await desk.GetByLabel("Keys handed in").FillAsync("2");
        await desk.GetByLabel("Keys handed in").PressAsync("Tab");
        await Button(desk, "The rest is as assumed").ClickAsync();
        await Expect(desk.GetByTestId("difference")).ToBeVisibleAsync();
        await desk.GetByLabel("Yes, with number plates hidden").CheckAsync();
        await desk.GetByLabel("Add photos", new() { Exact = false }).SetInputFilesAsync(Picture("nose.png"));
        await desk.GetByTestId("photo").GetByRole(AriaRole.Button).First.ClickAsync();
        await desk.GetByTestId("car-plan")
            .ClickAsync(
                new()
                {
                    Position = new() { X = 115, Y = 18 },
                }
            );
        await Expect(desk.GetByTestId("photo")).ToContainTextAsync("Nose");
        await desk.GetByLabel("Name of who signs").FillAsync(Customer);
        await desk.DrawSignatureAsync();
        await Button(desk, "The customer authorises the work").ClickAsync();
        await Expect(desk.GetByTestId("authorised")).ToContainTextAsync(Customer);
    }

    private static async Task<string> ShareAsync(IPage desk, string job)
    {
        await desk.OpenLiveAsync($"/jobs/{job}");
        await Button(desk, "Make a link for the customer").ClickAsync();
        return await desk.GetByTestId("progress-link").Locator(".address").InnerTextAsync();
    }

    /// <summary>Fabricator and inspector do whatever is ready, each at a tablet; lines are read as they fall due; the clock moves on where paint cures.</summary>
    private async Task WorkAsync(DeskJob api, string job)
    {
        var fabricator = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        var inspector = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Tablet);
        var failedOnce = false;
        for (var step = 0; step < 80; step++)
        {
            var state = await api.ReadAsync($"/api/v1/jobs/{job}");
            var operations = state.GetProperty("operations").EnumerateArray().ToList();
            var ready = operations.Find(o => o.GetProperty("state").GetString() == "ready");
            if (ready.ValueKind == JsonValueKind.Undefined)
            {
                if (await TendFireAsync(job, operations))
                {
                    continue;
                }

                if (
                    operations.TrueForAll(o => o.GetProperty("state").GetString() == "done")
                    || IsLeftToSignOff(operations)
                )
                {
                    await fabricator.Context.CloseAsync();
                    await inspector.Context.CloseAsync();
                    return;
                }

                shop.Clock.Advance(TimeSpan.FromHours(13));
                continue;
            }

            var code = ready.GetProperty("code").GetString()!;
            if (code == "270")
            {
                await fabricator.Context.CloseAsync();
                await inspector.Context.CloseAsync();
                return;
            }

            failedOnce |= await ReadLinesAsync(api, inspector, job, code, failedOnce);
            var tablet = ready.GetProperty("skill").GetString() == "inspector" ? inspector : fabricator;
            await DoAsync(tablet, job, code);
        }

        Assert.Fail("The job did not end.");
    }

    /// <summary>Opens a permit where hot work lacks nothing else; waits out and closes the watches where paint, or the end of the work, asks for it.</summary>
    private async Task<bool> TendFireAsync(string job, List<JsonElement> operations)
    {
        bool OnlyLacks(JsonElement o, string code) =>
            o.GetProperty("reasons").EnumerateArray().Select(r => r.GetProperty("code").GetString()).ToList()
                is { Count: > 0 } reasons
            && reasons.TrueForAll(r => r == code);
        if (operations.Find(o => OnlyLacks(o, "permit")) is { ValueKind: JsonValueKind.Object } hot)
        {
            await shop.OpenPermitAsync(Guid.Parse(job), hot.GetProperty("place").GetString()!);
            return true;
        }

        if (operations.Exists(o => OnlyLacks(o, "fireWatch")))
        {
            shop.Clock.Advance(TimeSpan.FromMinutes(61));
            await shop.ClosePermitsAsync();
            return true;
        }

        return false;
    }

    private static bool IsLeftToSignOff(List<JsonElement> operations) =>
        operations
            .Where(o => o.GetProperty("state").GetString() != "done")
            .Select(o => o.GetProperty("code").GetString())
            .SequenceEqual(["270"]);

    private static async Task DoAsync(IPage tablet, string job, string code)
    {
        await tablet.GotoAsync($"/floor/jobs/{job}");
        await tablet.ClockIsServersAsync();
        var running = tablet.Locator($".op[data-section=running][data-code='{code}']");
        var refusal = tablet.Locator($".op[data-code='{code}'] .unsent", new() { HasText = "Hot work is not started" });
        await tablet.Locator($"button[data-tap=start][data-code='{code}']").ClickAsync();
        await Expect(running.Or(refusal).First).ToBeVisibleAsync();
        if (await refusal.IsVisibleAsync())
        {
            // The connection blinked, and hot work asks for one: wait for it and tap again, as the page says.
            await Expect(tablet.Locator("#link-state")).ToHaveTextAsync("Connected");
            await tablet.Locator($"button[data-tap=start][data-code='{code}']").ClickAsync();
        }

        await running.Locator($"button[data-tap=finish][data-code='{code}']").ClickAsync();
        await Expect(tablet.Locator($".op[data-section=done][data-code='{code}']")).ToBeVisibleAsync();
    }

    private static async Task<bool> ReadLinesAsync(
        DeskJob api,
        IPage inspector,
        string job,
        string operation,
        bool failedOnce
    )
    {
        var plan = await api.ReadAsync($"/api/v1/jobs/{job}/inspection");
        var lines = plan.GetProperty("operations")
            .EnumerateArray()
            .SelectMany(o => o.GetProperty("lines").EnumerateArray())
            .Where(l => l.GetProperty("operation").GetString() == operation)
            .ToList();
        var failed = false;
        if (lines.Count > 0)
        {
            await inspector.GotoAsync($"/inspection/{job}");
        }

        foreach (var line in lines)
        {
            var isMeasured = line.TryGetProperty("unit", out var unit) && unit.ValueKind == JsonValueKind.String;
            var (upper, middle) = Limits(line);
            if (isMeasured && !failedOnce && !failed && upper is { } limit)
            {
                await RecordAsync(inspector, line, Text(limit + 100));
                await Expect(CardOf(inspector, line)).ToHaveAttributeAsync("data-state", "failed");
                failed = true;
                await inspector.GotoAsync($"/inspection/{job}");
                await Expect(inspector.GetByText("Cannot be signed off yet")).ToBeVisibleAsync();
            }

            await RecordAsync(inspector, line, isMeasured ? Text(middle) : null);
            await Expect(CardOf(inspector, line)).ToHaveAttributeAsync("data-state", "passed");
        }

        return failed;
    }

    private static async Task RecordAsync(IPage inspector, JsonElement line, string? value)
    {
        var card = CardOf(inspector, line);
        // The card itself is put in anew whenever the server has news; what holds it stays.
        await inspector
            .Locator("details.operation", new() { Has = card })
            .EvaluateAsync("operation => operation.open = true");
        if (value is not null)
        {
            await card.GetByLabel("Measured value").FillAsync(value);
        }

        if (line.GetProperty("photoRequired").GetBoolean())
        {
            await card.Locator("input[type=file]").SetInputFilesAsync(Picture("line.png"));
        }

        await card.GetByRole(AriaRole.Button, new() { Name = value is null ? "Passed" : "Record value" }).ClickAsync();
        await inspector.WaitForLoadStateAsync();
    }

    /// <summary>A tube with its heat and a weld with its welder from the tablet; the owner accepts the rest there with a reason.</summary>
    private async Task WriteDownMaterialAsync(string job)
    {
        var fabricator = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await fabricator.GotoAsync($"/floor/jobs/{job}/materials");
        var material = fabricator.Locator("section", new() { Has = fabricator.Locator("#material-title") });
        await material.GetByLabel("Tube").CheckAsync();
        await material.GetByLabel("What it is", new() { Exact = false }).FillAsync("Main hoop");
        await material.GetByLabel("Size", new() { Exact = false }).FillAsync("45 x 2.5 mm");
        await material.GetByLabel("Heat or lot number").FillAsync("H 4711");
        await material.GetByLabel("From stock").CheckAsync();
        await material.GetByLabel("Certificate", new() { Exact = false }).SetInputFilesAsync(Picture("heat.png"));
        await Button(fabricator, "Write it down").Last.ClickAsync();
        await Expect(fabricator.GetByTestId("material")).ToContainTextAsync("Heat or lot H 4711");
        var weld = fabricator.Locator("section", new() { Has = fabricator.Locator("#weld-title") });
        await weld.GetByLabel("190 Hoop foot, left").CheckAsync();
        await weld.GetByLabel("Welding procedure", new() { Exact = false }).FillAsync("WPS 3");
        await Button(fabricator, "Write it down").First.ClickAsync();
        await Expect(fabricator.GetByTestId("joint").Filter(new() { HasText = "Hoop foot, left" }))
            .ToContainTextAsync("Fabricator Person");
        await fabricator.Context.CloseAsync();

        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await owner.GotoAsync($"/floor/jobs/{job}/materials");
        await owner.GetByText("Accept as it is (owner)").ClickAsync();
        await owner.GetByLabel("Why (the papers say so)").FillAsync("Seen by me");
        await Button(owner, "Accept it").ClickAsync();
        await Expect(owner.GetByTestId("trace-account")).ToContainTextAsync("Nothing is missing");
        Assert.Empty(await owner.BarriersAsync());
        await owner.Context.CloseAsync();
    }

    private async Task SignOffAsync(string job)
    {
        var fabricator = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await fabricator.GotoAsync($"/inspection/{job}");
        await Expect(fabricator.GetByText("You worked on this car, so somebody else must sign it off."))
            .ToBeVisibleAsync();
        await fabricator.Context.CloseAsync();
        var inspector = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Tablet);
        await inspector.GotoAsync($"/inspection/{job}");
        await Button(inspector, "Sign off").ClickAsync();
        await Expect(inspector.GetByText("✓ Signed off by Inspector Person")).ToBeVisibleAsync();
        await inspector.Context.CloseAsync();
    }

    private static async Task PayAsync(IPage desk, string job)
    {
        await desk.OpenLiveAsync($"/jobs/{job}/account");
        await Button(desk, "Write the invoice").ClickAsync();
        await Button(desk, "Issue the invoice").ClickAsync();
        await Expect(desk.GetByRole(AriaRole.Link, new() { Name = "Invoice I-" })).ToBeVisibleAsync();
        var balance = Regex.Match(await desk.GetByTestId("balance").InnerTextAsync(), @"[\d,]+\.\d\d").Value;
        await Button(desk, "Payment").ClickAsync();
        await desk.GetByLabel("Amount").FillAsync(balance.Replace(",", "", StringComparison.Ordinal));
        await desk.GetByLabel("Amount").PressAsync("Tab");
        await desk.GetByRole(AriaRole.Group, new() { Name = "How" }).GetByLabel("Card").CheckAsync();
        await Button(desk, "Book payment").ClickAsync();
        await Expect(desk.GetByTestId("balance")).ToContainTextAsync("Settled");
    }

    private static async Task CollectAsync(IPage desk, string job)
    {
        await desk.OpenLiveAsync($"/jobs/{job}/hand-over");
        await desk.GetByRole(AriaRole.Group, new() { Name = "Now" }).First.GetByRole(AriaRole.Radio).First.CheckAsync();
        await desk.GetByLabel("Odometer, km").FillAsync("42011");
        await desk.GetByLabel("None is lit").CheckAsync();
        await desk.GetByLabel("Keys given back").FillAsync("2");
        await desk.GetByLabel("Keys given back").PressAsync("Tab");
        await desk.GetByLabel("Name of who signs").FillAsync(Customer);
        await desk.DrawSignatureAsync();
        await Button(desk, "Hand the car over and close the job").ClickAsync();
        await Expect(desk.GetByTestId("handed-over")).ToContainTextAsync(Customer);
    }

    private async Task LookBackAsync(IPage desk, string job, string address)
    {
        var phone = await shop.OpenAsync(Device.Phone);
        await phone.GotoAsync(address);
        await Expect(phone.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("Tarn");
        Assert.DoesNotContain("Fabricator Person", await phone.ContentAsync(), StringComparison.Ordinal);

        await desk.OpenLiveAsync($"/jobs/{job}");
        await Button(desk, "Revoke").ClickAsync();
        await Expect(desk.GetByText("✕ Revoked")).ToBeVisibleAsync();
        var gone = await phone.APIRequest.GetAsync(address);
        Assert.Equal(404, gone.Status);
        await phone.Context.CloseAsync();

        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await owner.OpenLiveAsync("/week");
        await Expect(owner.GetByText("Tarn").First).ToBeAttachedAsync();
        await owner.OpenLiveAsync("/history");
        await Expect(owner.GetByText("Fabricator Person").First).ToBeVisibleAsync();
        await owner.Context.CloseAsync();
    }

    private static ILocator Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static ILocator CardOf(IPage page, JsonElement line) =>
        page.Locator($"[id='line-{line.GetProperty("code").GetString()}']");

    private static (decimal? Upper, decimal Middle) Limits(JsonElement line)
    {
        var lower = Number(line, "lower");
        var upper = Number(line, "upper");
        return (upper, lower is { } l && upper is { } u ? (l + u) / 2 : upper ?? lower ?? Number(line, "nominal") ?? 0);
    }

    private static decimal? Number(JsonElement line, string name) =>
        line.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDecimal() : null;

    private static string Text(decimal value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static FilePayload Picture(string name) =>
        new()
        {
            Name = name,
            MimeType = "image/png",
            Buffer = Intake.Pictures.Png,
        };
}
