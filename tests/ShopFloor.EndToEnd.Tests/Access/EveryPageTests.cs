using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using MudBlazor.Utilities;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Layout;

namespace ShopFloor.EndToEnd.Tests.Access;

/// <summary>Every page that anybody can reach, light and dark, judged by axe: nothing that keeps a person from using it.</summary>
public sealed class EveryPageTests(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string DarkGround = ShopTheme
        .Of("#2f6f5e")
        .PaletteDark.Background.ToString(MudColorOutputFormats.RGBA);

    /// <summary>What the second scheme can change: the page is the same, its colours are others.</summary>
    private static readonly RunOnlyOptions ColourRules = new()
    {
        Type = "rule",
        Values = ["color-contrast", "link-in-text-block"],
    };

    /// <summary>Office pages take their theme from a script, which has to have run; nothing may fade while colours are compared.</summary>
    private const string IsSettled = """
        dark => !document.querySelector('.mud-skeleton')
          && (!document.querySelector('#mode') || (getComputedStyle(document.documentElement).getPropertyValue('--mud-palette-background').replaceAll(' ', '') === dark.replaceAll(' ', '')) === matchMedia('(prefers-color-scheme: dark)').matches)
          && document.getAnimations().every(a => a.playState !== 'running')
        """;

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
                wrong.AddRange(await ViolationsAsync(page, $"{toSee.Path} light", null));
                await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
                wrong.AddRange(await ViolationsAsync(page, $"{toSee.Path} dark", ColourRules));
            }

            await page.Context.CloseAsync();
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static async Task<IEnumerable<string>> ViolationsAsync(IPage page, string where, RunOnlyOptions? rules)
    {
        await page.WaitForFunctionAsync(IsSettled, DarkGround);
        var report = await page.RunAxe(new AxeRunOptions { ResultTypes = [ResultType.Violations], RunOnly = rules });
        return from violation in report.Violations
            from node in violation.Nodes.Take(3)
            select $"{where}: {violation.Impact} {violation.Id}: {violation.Help}: {node.Html}";
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
