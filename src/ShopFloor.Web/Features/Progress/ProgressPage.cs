using System.Text;
using ShopFloor.Application.Progress;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The customer's page at <c>/p/{token}</c>: no account, no cookie, no script.</summary>
public sealed class ProgressPage : IEndpoints
{
    private static readonly string Missing = $$"""
        <!DOCTYPE html>
        <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex, nofollow"><link rel="icon" href="data:,"><title>Not found</title><style>{{ProgressStyle.Css}}</style></head>
        <body><header><h1>There is nothing here</h1></header><main><p>This link does not open anything. It may be mistyped, too old, or taken back. Ask the shop for a new one.</p></main></body></html>
        """;

    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/p/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();

    private static async Task<IResult> ShowAsync(
        string token,
        HttpContext context,
        SeeProgress see,
        IServiceProvider services,
        ILoggerFactory loggers
    )
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.CacheControl = "private, no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        var view = await see.RunAsync(token, context.RequestAborted);
        var html = view is null ? Missing : await RenderAsync(view, services, loggers);
        return Results.Content(html, "text/html", Encoding.UTF8, view is null ? 404 : 200);
    }

    /// <summary>The whole document as text; it depends on nothing but the view.</summary>
    public static Task<string> RenderAsync(ProgressView view, IServiceProvider services, ILoggerFactory loggers) =>
        StandaloneHtml.RenderAsync<ProgressDocument>(
            new Dictionary<string, object?> { [nameof(ProgressDocument.View)] = view },
            services,
            loggers
        );
}
