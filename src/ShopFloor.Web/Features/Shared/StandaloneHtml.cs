using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;

namespace ShopFloor.Web.Features.Shared;

/// <summary>Renders a component that is a whole document: for pages of people without an account, which need no circuit and no script.</summary>
public static class StandaloneHtml
{
    /// <summary>The document as text; it depends on nothing but the parameters.</summary>
    public static async Task<string> RenderAsync<TDocument>(
        IReadOnlyDictionary<string, object?> parameters,
        IServiceProvider services,
        ILoggerFactory loggers
    )
        where TDocument : IComponent
    {
        await using var renderer = new HtmlRenderer(services, loggers);
        return await renderer.Dispatcher.InvokeAsync(async () =>
            (
                await renderer.RenderComponentAsync<TDocument>(
                    ParameterView.FromDictionary(parameters.ToDictionary(p => p.Key, p => p.Value))
                )
            ).ToHtmlString()
        );
    }

    /// <summary>The document as an answer that no cache keeps, no search engine lists, and whose address goes to no other site.</summary>
    /// <param name="policy">The page's content security policy.</param>
    public static async Task<IResult> AnswerAsync<TDocument>(
        HttpContext context,
        string policy,
        int status,
        IReadOnlyDictionary<string, object?> parameters,
        IServiceProvider services,
        ILoggerFactory loggers
    )
        where TDocument : IComponent
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = policy;
        headers.CacheControl = "private, no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        var html = await RenderAsync<TDocument>(parameters, services, loggers);
        return Results.Content(html, "text/html", System.Text.Encoding.UTF8, status);
    }
}
