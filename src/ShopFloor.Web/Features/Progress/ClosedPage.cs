using System.Text;

namespace ShopFloor.Web.Features.Progress;

/// <summary>What a link that opens nothing shows: always the same bytes, in every language at once, because nothing is known of who reads it.</summary>
internal static class ClosedPage
{
    public static ReadOnlyMemory<byte> Nothing { get; } =
        Page(
            (
                "en",
                "There is nothing here",
                "This link does not open anything. It may be mistyped, too old, or taken back. Ask the shop for a new one."
            ),
            (
                "de",
                "Hier ist nichts",
                "Dieser Link öffnet nichts. Vielleicht ist er falsch abgetippt, zu alt oder zurückgenommen. Bitten Sie die Werkstatt um einen neuen."
            )
        );

    public static ReadOnlyMemory<byte> Paused { get; } =
        Page(
            (
                "en",
                "Please wait a while",
                "Too many links that open nothing were tried from your network. Try again in a quarter of an hour, or call the shop."
            ),
            (
                "de",
                "Bitte warten Sie etwas",
                "Von Ihrem Netz aus wurden zu viele Links probiert, die nichts öffnen. Versuchen Sie es in einer Viertelstunde noch einmal, oder rufen Sie die Werkstatt an."
            )
        );

    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    /// <summary>One answer for every link that opens nothing: wrong, expired, revoked, or with nothing behind its end; another one while too many are tried.</summary>
    public static async Task AnswerAsync(HttpContext context, bool isPaused)
    {
        var (response, page) = (context.Response, isPaused ? Paused : Nothing);
        response.Headers["Referrer-Policy"] = "no-referrer";
        response.Headers["X-Robots-Tag"] = "noindex, nofollow";
        response.Headers.ContentSecurityPolicy = Policy;
        response.Headers.CacheControl = "private, no-store";
        response.StatusCode = isPaused ? StatusCodes.Status429TooManyRequests : StatusCodes.Status404NotFound;
        response.ContentType = "text/html; charset=utf-8";
        response.ContentLength = page.Length;
        await response.Body.WriteAsync(page, context.RequestAborted);
    }

    private static ReadOnlyMemory<byte> Page(
        (string Language, string Title, string Text) first,
        (string Language, string Title, string Text) second
    ) =>
        Encoding.UTF8.GetBytes(
            $$"""
            <!DOCTYPE html>
            <html lang="{{first.Language}}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex, nofollow"><link rel="icon" href="data:,"><title>{{first.Title}}</title><style>{{ProgressStyle.Css}}</style></head>
            <body><header><h1>{{first.Title}}</h1></header><main><p>{{first.Text}}</p><section lang="{{second.Language}}"><h2>{{second.Title}}</h2><p>{{second.Text}}</p></section></main></body></html>
            """
        );
}
