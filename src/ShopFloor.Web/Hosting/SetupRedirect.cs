namespace ShopFloor.Web.Hosting;

/// <summary>Leads every page to the set-up until somebody can sign in.</summary>
public sealed class SetupRedirect(RequestDelegate next, SetupGate gate)
{
    public const string Page = "/setup";
    private static readonly string[] Open =
    [
        Page,
        "/error",
        "/health",
        "/api",
        "/openapi",
        "/_framework",
        "/_content",
        "/p/",
        "/u/",
        "/d/",
        "/c/",
        "/j/",
    ];

    public async Task InvokeAsync(HttpContext context)
    {
        var path = context.Request.Path;
        if (
            Path.HasExtension(path)
            || Open.Any(o => path.StartsWithSegments(o.TrimEnd('/')))
            || await gate.IsCompleteAsync(context.RequestAborted)
        )
        {
            await next(context);
        }
        else
        {
            context.Response.Redirect(Page);
        }
    }
}
