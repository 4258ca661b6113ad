using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http.HttpResults;

namespace ShopFloor.Web.Hosting;

/// <summary>Answers forms whose antiforgery token is missing, old or another person's, before any endpoint reads them. Follows the antiforgery middleware.</summary>
public sealed class OldPageAnswer(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        if (context.Features.Get<IAntiforgeryValidationFeature>() is not { IsValid: false })
        {
            return next(context);
        }

        context.Response.Headers.CacheControl = "no-store";
        return new RazorComponentResult<OldPage>(new { Back = BackOf(context.Request) })
        {
            PreventStreamingRendering = true,
            StatusCode = StatusCodes.Status400BadRequest,
        }.ExecuteAsync(context);
    }

    /// <summary>The page that the form was on. Only path and query of the referrer are taken: the link never leaves this program.</summary>
    private static string BackOf(HttpRequest request) =>
        Uri.TryCreate(request.Headers.Referer.ToString(), UriKind.Absolute, out var from)
        && from.PathAndQuery is ['/', ..]
        && !from.PathAndQuery.StartsWith("//", StringComparison.Ordinal)
            ? from.PathAndQuery
            : "/";
}
