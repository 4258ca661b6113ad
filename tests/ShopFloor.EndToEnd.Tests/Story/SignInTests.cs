using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Story;

public sealed class SignInTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task The_owner_signs_in_and_sees_the_shops_name()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);

        await page.OpenLiveAsync("/");

        await Assertions.Expect(page.Locator(".shop-name")).ToHaveTextAsync("Test Works");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_wrong_password_is_refused_with_a_sentence()
    {
        var page = await shop.OpenAsync(Device.Phone);
        await page.GotoAsync("/customers");
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("/sign-in"));
        await page.GetByLabel("E-mail address").FillAsync(StaffedShop.EmailOf(Role.Owner));
        await page.GetByLabel("Password").FillAsync("not the password");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync();

        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }
}

public sealed class FirstStartTests(EmptyShop shop) : IClassFixture<EmptyShop>
{
    [Fact]
    public async Task An_empty_program_leads_every_page_to_the_set_up()
    {
        var page = await shop.OpenAsync(Device.Desk);
        await page.GotoAsync("/jobs");

        await Assertions.Expect(page).ToHaveURLAsync(new Regex("/setup"));
        await page.Context.CloseAsync();
    }
}
