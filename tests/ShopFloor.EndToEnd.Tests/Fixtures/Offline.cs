using Microsoft.Playwright;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

public static class Offline
{
    /// <summary>The worker is in charge and says that it has kept this page with all its parts: what a tablet has after its first moment.</summary>
    public static async Task ReadyForOfflineAsync(this IPage page)
    {
        await Assertions.Expect(page.Locator("html[data-kept]")).ToHaveCountAsync(1);
        await page.WaitForFunctionAsync("() => navigator.serviceWorker.controller !== null");
    }
}
