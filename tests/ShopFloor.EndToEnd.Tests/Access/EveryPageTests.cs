using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Access;

/// <summary>Every page that anybody can reach, light and dark, judged by axe: nothing that keeps a person from using it.</summary>
public sealed class EveryPageTests(DemoShop shop) : IClassFixture<DemoShop>
{
    [Theory]
    [InlineData(Role.Owner)]
    [InlineData(Role.FrontDesk)]
    [InlineData(Role.Fabricator)]
    [InlineData(Role.Inspector)]
    [InlineData(null)]
    public async Task Every_page_of_a_role_can_be_used_by_everybody_light_and_dark(Role? role)
    {
        var pages = await ReachablePages.OfAsync(role, shop.Services);
        var wrong = new List<string>();
        foreach (var group in pages.GroupBy(p => p.Device))
        {
            var page = EmailOf(role) is { } email
                ? await shop.OpenAsAsync(email, group.Key)
                : await shop.OpenAsync(group.Key);
            foreach (var toSee in group)
            {
                await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
                await page.OpenLiveAsync(toSee.Path);
                wrong.AddRange((await page.BarriersAsync()).Select(b => $"{toSee.Path} light: {b}"));
                await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
                wrong.AddRange((await page.BarriersAsync(coloursOnly: true)).Select(b => $"{toSee.Path} dark: {b}"));
            }

            await page.Context.CloseAsync();
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static string? EmailOf(Role? role) =>
        role switch
        {
            Role.Owner => DemoShop.Owner,
            Role.FrontDesk => DemoShop.FrontDesk,
            Role.Fabricator => DemoShop.Fabricator,
            Role.Inspector => DemoShop.Inspector,
            _ => null,
        };
}
