using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Intake;

/// <summary>The front desk at the counter: a car comes in, its customer signs, a phone takes photos, the car goes back.</summary>
public sealed class CounterTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task A_chassis_number_is_checked_while_it_is_typed_and_names_its_model_years()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/cars/new");
        await page.GetByLabel("Chassis number (VIN)").FillAsync("1m8gdm9a 1kp042788");

        // Published example 1M8GDM9AXKP042788 with its check digit changed.
        await Expect(page.GetByText("expected X")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "1989" }).ClickAsync();
        await Expect(page.GetByLabel("Model year", new() { Exact = true })).ToHaveValueAsync("1989");

        await page.GetByLabel("Chassis number (VIN)").FillAsync("1M8GDM9AXKPO42788");
        await Expect(page.GetByText("it reads 1M8GDM9AXKP042788")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_car_is_booked_in_and_its_customer_signs_on_the_screen()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Ada Kremer");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/drop-off");

        await page.GetByLabel("Odometer, km").FillAsync("81000");
        await page.GetByLabel("None is lit").CheckAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Fuel level" }).GetByLabel("½").CheckAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Battery, 12 V" }).GetByLabel("Good").CheckAsync();
        await page.GetByLabel("Keys handed in").FillAsync("2");
        await page.GetByLabel("Keys handed in").PressAsync("Tab");
        await page.GetByRole(AriaRole.Button, new() { Name = "The rest is as assumed" }).ClickAsync();
        await Expect(page.GetByTestId("difference")).ToContainTextAsync("stay as quoted");
        await page.GetByRole(AriaRole.Group, new() { Name = "Rust" }).GetByLabel("Heavy").CheckAsync();
        await Expect(page.GetByTestId("difference")).ToContainTextAsync("more");
        await page.GetByLabel("Yes, with number plates hidden").CheckAsync();

        await AddPhotoAsync(page);
        await page.GetByTestId("photo").GetByRole(AriaRole.Button).First.ClickAsync();
        await page.GetByTestId("car-plan")
            .ClickAsync(
                new()
                {
                    Position = new() { X = 115, Y = 18 },
                }
            );
        await Expect(page.GetByTestId("photo")).ToContainTextAsync("Nose");

        await page.GetByLabel("Name of who signs").FillAsync("Ada Kremer");
        await page.DrawSignatureAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "The customer authorises the work" }).ClickAsync();
        await Expect(page.GetByTestId("authorised")).ToContainTextAsync("Ada Kremer");
        await page.Context.CloseAsync();

        var sheet = await desk.ReadAsync($"/api/v1/jobs/{job}/drop-off");
        Assert.True(
            sheet.GetProperty("dropOff").GetProperty("authorisation").GetProperty("strokes").GetArrayLength() > 0
        );
    }

    [Fact]
    public async Task A_phone_adds_photos_by_the_code_on_the_screen_and_they_appear_at_the_desk()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Bea Phone");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/drop-off");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take them with a phone" }).ClickAsync();
        var address = await page.GetByTestId("phone-link").Locator(".address").InnerTextAsync();

        var phone = await shop.OpenAsync(Device.Phone);
        await phone.GotoAsync(address);
        await phone.GetByLabel("Take or choose a photo").SetInputFilesAsync([Picture("one.png"), Picture("two.png")]);
        await phone.GetByRole(AriaRole.Button, new() { Name = "Add the photos" }).ClickAsync();
        await Expect(phone.GetByText("✓ one.png was added.")).ToBeVisibleAsync();
        await Expect(phone.GetByText("✓ two.png was added.")).ToBeVisibleAsync();
        await Expect(page.GetByTestId("photo")).ToHaveCountAsync(2);

        await phone
            .GetByLabel("Take or choose a photo")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "notes.jpg",
                    MimeType = "image/jpeg",
                    Buffer = "no picture"u8.ToArray(),
                }
            );
        await phone.GetByRole(AriaRole.Button, new() { Name = "Add the photos" }).ClickAsync();
        await Expect(phone.GetByText("✕ notes.jpg:")).ToBeVisibleAsync();
        await phone.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_finished_car_is_walked_round_signed_for_and_handed_over()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenDoneAsync("Cleo Done");
        await desk.PutAsync(
            $"/api/v1/jobs/{job}/drop-off",
            new
            {
                odometerKm = 81_000,
                warningLights = Array.Empty<string>(),
                fuelPercent = 25,
                keys = 2,
                conditionFound = new { rust = "light" },
                battery = "good",
                photoConsent = "refused",
            }
        );
        await desk.AddPhotoAsync(job, Pictures.Png);
        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await owner.OpenLiveAsync($"/jobs/{job}/account");
        await owner.GetByRole(AriaRole.Button, new() { Name = "Let the car go with a balance due" }).ClickAsync();
        await owner.GetByLabel("Why").FillAsync("Pays on Friday");
        await owner.GetByRole(AriaRole.Button, new() { Name = "Decide so" }).ClickAsync();
        await Expect(owner.GetByText("Pays on Friday")).ToBeVisibleAsync();
        await owner.Context.CloseAsync();
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
        await page.OpenLiveAsync($"/jobs/{job}/hand-over");
        await page.GetByRole(AriaRole.Button, new() { Name = "Hand the car over" }).ClickAsync();
        await Expect(page.GetByText("1 of 1 photos from the drop-off").First).ToBeVisibleAsync();

        await page.GetByTestId("look").GetByLabel("Different").CheckAsync();
        await page.GetByLabel("What is different").FillAsync("Sill polished");
        await page.GetByLabel("Odometer, km").FillAsync("81040");
        await page.GetByLabel("None is lit").CheckAsync();
        await page.GetByLabel("Keys given back").FillAsync("2");
        await page.GetByLabel("Name of who signs").FillAsync("Cleo Done");
        await page.DrawSignatureAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Hand the car over" }).ClickAsync();
        await Expect(page.GetByTestId("handed-over")).ToContainTextAsync("Sill polished");
        await page.Context.CloseAsync();

        Assert.Equal("closed", (await desk.ReadAsync($"/api/v1/jobs/{job}")).GetProperty("state").GetString());
    }

    [Fact]
    public async Task The_car_of_a_cancelled_job_goes_back_from_its_page_and_the_caution_is_signed()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Gwen Gone");
        await desk.AddPhotoAsync(job, Pictures.Png);
        await desk.PostAsync($"/api/v1/jobs/{job}/cancel", new { reason = "car sold" });
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
        await page.OpenLiveAsync($"/jobs/{job}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Give the car back" }).ClickAsync();
        await page.WaitForURLAsync($"**/jobs/{job}/return");

        await page.GetByTestId("look").GetByLabel("Same").CheckAsync();
        await page.GetByLabel("Odometer, km").FillAsync("81040");
        await page.GetByLabel("None is lit").CheckAsync();
        await page.GetByLabel("½").CheckAsync();
        await page.GetByLabel("Keys given back").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a part" }).ClickAsync();
        await page.GetByLabel("Part", new() { Exact = true }).FillAsync("Rear seat");
        await page.GetByLabel("In a box").CheckAsync();
        await page.GetByLabel("What was cut, drilled or welded").FillAsync("Carpet cut behind the seats");
        await Expect(page.GetByTestId("return-notice")).ToContainTextAsync("certifies nothing");
        Assert.Empty(await page.BarriersAsync());
        await page.GetByLabel("Name of who signs").FillAsync("Gwen Gone");
        await page.DrawSignatureAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Record that the car went back" }).ClickAsync();
        await Expect(page.GetByTestId("car-returned")).ToContainTextAsync("Rear seat, in a box");
        await Expect(page.GetByTestId("car-returned")).ToContainTextAsync("Carpet cut behind the seats");
        await page.OpenLiveAsync($"/jobs/{job}");
        await Expect(page.GetByTestId("cancelled-car")).ToContainTextAsync("Car returned on");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task The_pages_of_the_counter_can_be_used_by_everybody()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Dana Axe");
        await desk.AddPhotoAsync(job, Pictures.Png);
        foreach (var path in new[] { "/cars", "/cars/new", $"/jobs/{job}/drop-off", $"/jobs/{job}/hand-over" })
        {
            var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
            await page.OpenLiveAsync(path);
            Assert.Empty((await page.BarriersAsync()).Select(b => $"{path}: {b}"));
            await page.Context.CloseAsync();
        }
    }

    private static Task AddPhotoAsync(IPage page) =>
        page.GetByLabel("Add photos", new() { Exact = false }).SetInputFilesAsync(Picture("nose.png"));

    private static FilePayload Picture(string name) =>
        new()
        {
            Name = name,
            MimeType = "image/png",
            Buffer = Pictures.Png,
        };
}
