using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Story;

/// <summary>A button that moves away between pressing and letting go gets its click all the same.</summary>
public sealed class PressTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task A_car_is_added_although_the_check_of_its_number_moves_the_button_under_the_mouse()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/quotes/new");
        await Button(page, "New customer").ClickAsync();
        var customer = page.GetByRole(AriaRole.Group, new() { Name = "New customer" });
        await customer.GetByLabel("Name").FillAsync("Ines Dahl");
        await customer.GetByLabel("E-mail address").FillAsync("ines@example.com");
        await Button(page, "Add customer").ClickAsync();
        var car = page.GetByRole(AriaRole.Group, new() { Name = "New car" });
        await car.GetByLabel("Make").FillAsync("Corvane");
        await car.GetByLabel("Model", new() { Exact = true }).FillAsync("Tarn");
        await car.GetByLabel("Model year").FillAsync("2024");
        await car.GetByLabel("Chassis number (VIN)").FillAsync("1X9TEST01RT000001");

        // The field says what it holds when it is left, which is when the button is pressed.
        await PressAsync(page, Button(page, "Add car"), car.GetByText("Well-formed VIN"));

        await Expect(page.GetByRole(AriaRole.Group, new() { Name = "Car", Exact = true })).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_press_that_is_drawn_away_from_its_button_does_nothing()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/quotes/new");
        var button = (await Button(page, "New customer").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(button.X + 10, button.Y + 10);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(button.X + 10, button.Y + 200);
        await page.Mouse.UpAsync();
        // What comes after it is answered, so the press has been as well.
        await Button(page, "Save draft").ClickAsync();
        await Expect(page.GetByText("Not saved yet: see the fields")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Group, new() { Name = "New customer" })).ToHaveCountAsync(0);
        await page.Context.CloseAsync();
    }

    private static async Task PressAsync(IPage page, ILocator button, ILocator until)
    {
        var box = (await button.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await page.Mouse.DownAsync();
        await until.WaitForAsync();
        Assert.NotEqual(box.Y, (await button.BoundingBoxAsync())!.Y);
        await page.Mouse.UpAsync();
    }

    private static ILocator Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });
}
