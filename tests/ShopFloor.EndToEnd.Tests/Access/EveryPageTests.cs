using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Access;

/// <summary>Every page that anybody can reach, judged by axe: nothing that keeps a person from using it. Two classes, so that the longest test of all has both processors.</summary>
public sealed class EveryPageOfOwnerTests(DemoShop shop) : EveryPageTests(shop), IClassFixture<DemoShop>
{
    [Fact]
    public Task Every_page_can_be_used_by_everybody_light_and_dark() => SeeAsync(Role.Owner, _ => true);
}

public sealed class EveryPageOfOthersTests(DemoShop shop) : EveryPageTests(shop), IClassFixture<DemoShop>
{
    /// <summary>The front desk sees the owner's pages with less on them, so it is not looked at a second time. The other colour scheme changes colours only, which the same page has for everybody: it is looked at where the owner does not come.</summary>
    [Theory]
    [InlineData(Role.Fabricator)]
    [InlineData(Role.Inspector)]
    [InlineData(null)]
    public async Task Every_page_can_be_used_by_everybody(Role? role)
    {
        var owners = (await OfAsync(Role.Owner)).Select(p => p.Path).ToHashSet(StringComparer.Ordinal);
        await SeeAsync(role, path => !owners.Contains(path));
    }
}

public abstract class EveryPageTests(DemoShop shop)
{
    private protected Task<List<ReachablePage>> OfAsync(Role? role) => ReachablePages.OfAsync(role, shop.Services);

    /// <param name="role">Whose pages; null for those without an account.</param>
    /// <param name="inDarkToo">Which paths are looked at in the dark scheme too.</param>
    private protected async Task SeeAsync(Role? role, Func<string, bool> inDarkToo)
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
                if (!inDarkToo(toSee.Path))
                {
                    continue;
                }

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
            Role.Fabricator => DemoShop.Fabricator,
            Role.Inspector => DemoShop.Inspector,
            _ => null,
        };
}
