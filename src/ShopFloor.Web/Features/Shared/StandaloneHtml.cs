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
}
