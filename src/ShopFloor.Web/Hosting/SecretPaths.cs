using Microsoft.AspNetCore.Http.Features;

namespace ShopFloor.Web.Hosting;

/// <summary>
/// Takes the secret out of a link's address before anything else sees the request: request logs, log scopes, traces, error pages and every middleware read
/// <c>/p/hidden</c>. The endpoint gets the secret back as its route value.
/// </summary>
public sealed class SecretPaths(IServiceProvider services) : IHttpContextFactory
{
    /// <summary>What stands in an address instead of its secret.</summary>
    public const string Hidden = "hidden";

    /// <summary>First part of the addresses whose second part is a secret. <c>/record</c> is a hash that shows nothing, but names one job's record.</summary>
    private static readonly string[] Kinds = ["/p/", "/u/", "/d/", "/c/", "/j/", "/m/", "/record/"];

    private readonly DefaultHttpContextFactory inner = new(services);

    private sealed record Secret(string Token);

    public HttpContext Create(IFeatureCollection featureCollection)
    {
        Hide(featureCollection);
        return inner.Create(featureCollection);
    }

    public void Dispose(HttpContext httpContext) => inner.Dispose(httpContext);

    /// <summary>Right after routing: puts the secret into the route value it was taken from.</summary>
    public static Task Restore(HttpContext context, RequestDelegate next)
    {
        if (context.Features.Get<Secret>() is { } secret)
        {
            var values = context.Request.RouteValues;
            foreach (var name in values.Where(v => v.Value is Hidden).Select(v => v.Key).ToList())
            {
                values[name] = secret.Token;
            }
        }

        return next(context);
    }

    private static void Hide(IFeatureCollection features)
    {
        if (features.Get<IHttpRequestFeature>() is not { } request || KindOf(request.Path) is not { } kind)
        {
            return;
        }

        var path = request.Path;
        var end = path.IndexOf('/', kind.Length);
        var token = end < 0 ? path[kind.Length..] : path[kind.Length..end];
        if (token.Length == 0)
        {
            return;
        }

        features.Set(new Secret(token));
        request.Path = kind + Hidden + (end < 0 ? "" : path[end..]);
        request.RawTarget = request.PathBase + request.Path + request.QueryString;
    }

    private static string? KindOf(string path) =>
        Array.Find(Kinds, k => path.StartsWith(k, StringComparison.OrdinalIgnoreCase));
}
