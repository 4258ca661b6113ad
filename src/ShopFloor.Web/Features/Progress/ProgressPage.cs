using System.Text;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The customer's page at <c>/p/{token}</c>: no account, no cookie; readable without script, and with it up to date by itself.</summary>
public sealed class ProgressPage : IEndpoints
{
    private static readonly string Missing = $$"""
        <!DOCTYPE html>
        <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="robots" content="noindex, nofollow"><link rel="icon" href="data:,"><title>Not found</title><style>{{ProgressStyle.Css}}</style></head>
        <body><header><h1>There is nothing here</h1></header><main><p>This link does not open anything. It may be mistyped, too old, or taken back. Ask the shop for a new one.</p></main></body></html>
        """;

    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; script-src {ProgressScript.Source}; connect-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    /// <summary>Then the page connects again, and its link is looked at anew.</summary>
    private static readonly TimeSpan LongestStream = TimeSpan.FromMinutes(10);

    /// <summary>Open streams of customers in this process; one more is told to read by time.</summary>
    private const int MostStreams = 1000;

    private const string Changed = "data: -";

    private static int streams;

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/p/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/p/{token}/changes", FollowAsync).AllowAnonymous().ExcludeFromDescription();
    }

    /// <summary>Says that something changed about this job, not what; a wrong, expired or revoked link gets 404 without a word.</summary>
    private static async Task FollowAsync(
        string token,
        long? after,
        HttpContext context,
        SeeProgress see,
        IChangeNotices changes,
        IHostApplicationLifetime life
    )
    {
        context.Response.Headers["Referrer-Policy"] = "no-referrer";
        if (await see.JobOfAsync(token, context.RequestAborted) is not { } job)
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        try
        {
            if (Interlocked.Increment(ref streams) > MostStreams)
            {
                context.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
                return;
            }

            await ChangeStream.RunAsync(
                context,
                changes,
                life,
                notice => notice.JobId == job.Value ? Changed : null,
                LongestStream,
                async ct => after is { } seen && await see.LatestAsync(job, ct) > seen ? Changed : null
            );
        }
        finally
        {
            Interlocked.Decrement(ref streams);
        }
    }

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
