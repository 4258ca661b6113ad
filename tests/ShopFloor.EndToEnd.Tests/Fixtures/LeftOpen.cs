using Microsoft.Playwright;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>Pages that a test left open: it failed there. What stood on them is kept in logs/pages.log, with a picture, to be read after a run that nobody watched.</summary>
public static class LeftOpen
{
    private static readonly Lock Gate = new();

    /// <summary>What a page says about itself: messages, what is open or refused, and its whole text.</summary>
    private const string Said = """
        () => {
          const of = (what) => [...document.querySelectorAll(what)].map(e => e.innerText.trim()).filter(t => t);
          return [
            ['messages', of('.mud-snackbar, [role=alert], .problem, [aria-invalid=true]')],
            ['connection', of('#blazor-error-ui, #components-reconnect-modal[open], #link-state')],
            ['focus', [document.activeElement?.outerHTML.slice(0, 200) ?? '']],
            ['text', [document.body.innerText.replace(/\s+/g, ' ').slice(0, 1500)]],
          ].map(([name, found]) => `  ${name}: ${found.join(' | ').slice(0, 1600)}`).join('\n');
        }
        """;

    public static async Task NoteAsync(IBrowserContext context, string shop)
    {
        foreach (var page in context.Pages.Where(p => !p.IsClosed))
        {
            var folder = Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "logs")).FullName;
            try
            {
                var said = await page.EvaluateAsync<string>(Said);
                await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{Guid.CreateVersion7():N}.png") });
                Write(folder, $"{shop} {page.Url}\n{said}\n");
            }
            catch (PlaywrightException exception)
            {
                // The page is gone or busy for good: that is worth a line too.
                Write(folder, $"{shop} {page.Url}: {exception.Message}\n");
            }
        }
    }

    private static void Write(string folder, string text)
    {
        lock (Gate)
        {
            File.AppendAllText(Path.Combine(folder, "pages.log"), text);
        }
    }
}
