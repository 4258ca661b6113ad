using System.Net;
using System.Text;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress;

namespace ShopFloor.Web.Features.Messages;

/// <summary>The customer's page at <c>/m/{token}</c> for stopping messages: no account, no cookie, no script. Opening it changes nothing; a post does, from this page or from a mail program (RFC 8058).</summary>
public sealed class UnsubscribePage : IEndpoints
{
    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; img-src data:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/m/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();
        // The secret in the address is what allows it: mail programs post without a cookie and without a page of ours.
        app.MapPost("/m/{token}", ActAsync).AllowAnonymous().DisableAntiforgery().ExcludeFromDescription();
    }

    private static async Task<IResult> ShowAsync(string token, HttpContext context, ChooseByLink choose) =>
        Page(context, await choose.ReadAsync(token, context.RequestAborted));

    private static async Task<IResult> ActAsync(string token, HttpContext context, ChooseByLink choose)
    {
        // The small form says at most that messages are wanted again; everything else that is posted stops them.
        var isAgain = context.Request.Query.ContainsKey("again");
        await choose.ChooseAsync(token, !isAgain, context.RequestAborted);
        return Page(context, await choose.ReadAsync(token, context.RequestAborted));
    }

    private static IResult Page(HttpContext context, ChooseByLink.View? view)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.CacheControl = "private, no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        return Results.Content(Html(view), "text/html", Encoding.UTF8, view is null ? 404 : 200);
    }

    private static string Html(ChooseByLink.View? view)
    {
        var isGerman = view?.Language == MessageLanguages.German;
        var (title, text, button, action) = view switch
        {
            null => (
                "There is nothing here",
                "This link does not open anything. It may be mistyped. Ask the shop to stop the messages.",
                null,
                ""
            ),
            { IsStopped: true } when isGerman => (
                "Keine Nachrichten mehr",
                "Es kommen nur noch Nachrichten, die zum Vertrag gehören: Angebote, Änderungen zur Entscheidung und Rechnungen.",
                "Doch wieder Nachrichten bekommen",
                "?again"
            ),
            { IsStopped: true } => (
                "Messages are stopped",
                "Only messages that the contract needs still come: quotes, changes to decide on and invoices.",
                "Get the messages again",
                "?again"
            ),
            _ when isGerman => (
                "Nachrichten abbestellen",
                "Sie bekommen dann keine Nachrichten mehr über den Stand der Arbeit, Termine und Abholung. Angebote, Änderungen zur Entscheidung und Rechnungen kommen weiterhin.",
                "Nachrichten abbestellen",
                "?"
            ),
            _ => (
                "Stop messages",
                "You then get no messages about progress, days and collection any more. Quotes, changes to decide on and invoices still come.",
                "Stop the messages",
                "?"
            ),
        };
        var form = button is null
            ? ""
            : $"<form method=\"post\" action=\"{action}\"><button type=\"submit\">{button}</button></form>";
        var shop = view is null ? "" : $"<p>{WebUtility.HtmlEncode(view.ShopName)}</p>";
        return $"""
            <!DOCTYPE html>
            <html lang="{(
                isGerman ? "de" : "en"
            )}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex, nofollow"><link rel="icon" href="data:,"><title>{title}</title><style>{ProgressStyle.Css}</style></head>
            <body><header>{shop}<h1>{title}</h1></header><main><p>{text}</p>{form}</main></body></html>
            """;
    }
}
