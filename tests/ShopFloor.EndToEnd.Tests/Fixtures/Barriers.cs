using Deque.AxeCore.Commons;
using Microsoft.Playwright;
using MudBlazor.Utilities;
using ShopFloor.Web.Layout;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>What axe finds on an open page. The engine runs in the page itself, without the extra tab that the package's own call opens each time.</summary>
public static class Barriers
{
    private static readonly string Engine = new BundledAxeScriptProvider().GetScript();

    private static readonly string DarkGround = ShopTheme
        .Of("#2f6f5e")
        .PaletteDark.Background.ToString(MudColorOutputFormats.RGBA);

    /// <summary>What the other colour scheme can change: the page is the same, its colours are others.</summary>
    private static readonly string[] ColourRules = ["color-contrast", "link-in-text-block"];

    /// <summary>Office pages take their theme from a script, which has to have run; nothing may fade while colours are compared.</summary>
    private const string IsSettled = """
        dark => !document.querySelector('.mud-skeleton')
          && (!document.querySelector('#mode') || (getComputedStyle(document.documentElement).getPropertyValue('--mud-palette-background').replaceAll(' ', '') === dark.replaceAll(' ', '')) === matchMedia('(prefers-color-scheme: dark)').matches)
          && document.fonts.status === 'loaded'
          && document.getAnimations().every(a => a.playState !== 'running')
        """;

    private const string Run = """
        async ([within, rules]) => {
          const options = { resultTypes: ['violations'], selectors: false, ...(rules && { runOnly: { type: 'rule', values: rules } }) };
          const report = await axe.run(within ? document.querySelector(within) : document, options);
          return report.violations.flatMap(v => v.nodes.slice(0, 3).map(n => `${v.impact} ${v.id}: ${v.help}: ${n.html}`));
        }
        """;

    /// <summary>Waits until the page has its colours and nothing fades or moves.</summary>
    public static Task SettleAsync(this IPage page) => page.WaitForFunctionAsync(IsSettled, DarkGround);

    /// <summary>Every violation, each with up to three places; empty on a page that everybody can use.</summary>
    /// <param name="page">An open page.</param>
    /// <param name="within">CSS selector of the part to look at; null for the whole page.</param>
    /// <param name="coloursOnly">Only what another colour scheme can change.</param>
    public static async Task<string[]> BarriersAsync(this IPage page, string? within = null, bool coloursOnly = false)
    {
        await page.SettleAsync();
        if (!await page.EvaluateAsync<bool>("'axe' in window"))
        {
            await page.EvaluateAsync(Engine);
        }

        return await page.EvaluateAsync<string[]>(Run, new object?[] { within, coloursOnly ? ColourRules : null });
    }
}
