using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Accounts;

/// <summary>Amounts as they are typed in a hurry, by keyboard alone.</summary>
public sealed class TypedFiguresTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task What_is_booked_is_what_stands_in_the_field_when_Enter_is_pressed()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Tina Typist");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/account");
        await page.GetByRole(AriaRole.Button, new() { Name = "Payment", Exact = true }).ClickAsync();
        var amount = page.Locator("#amount");
        await page.GetByLabel("Cash").CheckAsync();

        await amount.FillAsync("1,234");
        await amount.FillAsync("12.345");
        await amount.PressAsync("Enter");
        await Expect(page.GetByText("'12.345' has more").First).ToBeVisibleAsync();
        await Expect(page.GetByText("Not saved yet")).ToBeVisibleAsync();
        Assert.Equal(0, await PaidAsync());

        // No pause between the last key and Enter: the key before it must count.
        await amount.FillAsync("12,30");
        await amount.PressAsync("Backspace");
        await amount.PressSequentiallyAsync("4");
        await amount.PressAsync("Enter");
        await Expect(page.GetByText("Booked.")).ToBeVisibleAsync();
        Assert.Equal(1_234, await PaidAsync());
        await page.Context.CloseAsync();

        async Task<long> PaidAsync() =>
            (await desk.ReadAsync($"/api/v1/jobs/{job}/account")).GetProperty("paidMinor").GetInt64();
    }

    [Fact]
    public async Task Whoever_goes_by_keyboard_sees_where_they_are()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Kai Keyboard");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/account");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Payment", Exact = true })).ToBeVisibleAsync();

        // The heading takes the focus for screen readers when a page is opened; it is nothing to press.
        await Expect(page.Locator("h1")).ToBeFocusedAsync();
        Assert.Equal(
            "H1 none",
            await page.EvaluateAsync<string>(
                "() => `${document.activeElement.tagName} ${getComputedStyle(document.activeElement).outlineStyle}`"
            )
        );
        var seen = new List<string>();
        for (var i = 0; i < 40; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            seen.Add(
                await page.EvaluateAsync<string>(
                    """
                    () => {
                      const at = document.activeElement, look = getComputedStyle(at);
                      return `${at.tagName} ${at.textContent.trim().slice(0, 30)} ${look.outlineStyle} ${look.outlineWidth}`;
                    }
                    """
                )
            );
        }

        var links = seen.Where(s =>
                s.StartsWith("A ", StringComparison.Ordinal) || s.StartsWith("BUTTON ", StringComparison.Ordinal)
            )
            .ToList();
        Assert.True(links.Count > 10, string.Join('\n', seen));
        Assert.All(links, s => Assert.EndsWith("solid 3px", s, StringComparison.Ordinal));
        await page.Context.CloseAsync();
    }
}
