using System.Text;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress.Words;
using ShopFloor.Web.Features.Records;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Progress;

/// <summary>The customer's page at <c>/p/{token}</c> and what is under it: no account, no cookie; readable without script, and with it up to date by itself.</summary>
public sealed class ProgressPage : IEndpoints
{
    private const string Html = "text/html; charset=utf-8";
    private const string Pdf = "application/pdf";

    private static readonly string Policy =
        $"default-src 'none'; style-src {ProgressStyle.Source}; script-src {ProgressScript.Source}; connect-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

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
        app.MapGet("/p/{token}/photos/{id:guid}", PhotoAsync).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/p/{token}/papers/{paper}", PaperAsync).AllowAnonymous().ExcludeFromDescription();
    }

    private static async Task ShowAsync(
        string token,
        HttpContext context,
        ProgressCache cache,
        ProgressUses uses,
        IServiceProvider services
    )
    {
        var asked = AskedLanguage.Of(context.Request);
        var variant = asked.ByLink ?? (asked.ByBrowser is { } browser ? $"~{browser}" : "~");
        var page = await OpenAsync(
            token,
            variant,
            context,
            cache,
            async link =>
            {
                var view = await services.GetRequiredService<SeeProgress>().TellAsync(link.Job, context.RequestAborted);
                var html = await RenderAsync(
                    view,
                    asked.Choose(view.Language),
                    $"/p/{token}",
                    services,
                    services.GetRequiredService<ILoggerFactory>()
                );
                return Encoding.UTF8.GetBytes(html);
            }
        );
        if (page is null)
        {
            return;
        }

        // The page that reads itself anew was not opened again.
        if (!context.Request.Headers.ContainsKey(ProgressScript.AgainHeader))
        {
            uses.Count(page.Link.Id);
        }

        var headers = SecretHeaders(context);
        headers.ContentSecurityPolicy = Policy;
        headers.CacheControl = "private, no-store";
        await WriteAsync(context, page.Content, Html);
    }

    /// <summary>A photo that the shop shows, small and without metadata.</summary>
    private static async Task PhotoAsync(
        string token,
        Guid id,
        HttpContext context,
        LinkDoor door,
        ProgressPapers papers
    )
    {
        var ct = context.RequestAborted;
        var opening = await door.TryAsync(token, context.Connection.RemoteIpAddress, ct);
        var file = opening.Link is { } link ? await papers.PhotoAsync(link.Job, PhotoId.From(id), ct) : null;
        if (file is null)
        {
            await ClosedPage.AnswerAsync(context, opening.IsPaused);
            return;
        }

        var headers = SecretHeaders(context);
        headers.CacheControl = "private, max-age=3600";
        headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        await WriteAsync(context, file.Bytes, file.ContentType);
    }

    /// <summary>A paper that the shop has released.</summary>
    private static async Task PaperAsync(
        string token,
        string paper,
        HttpContext context,
        ProgressCache cache,
        ProgressPapers papers,
        Hosting.Settings settings
    )
    {
        var page = await OpenAsync(
            token,
            $"papers/{paper}",
            context,
            cache,
            async link =>
            {
                var printed = await papers.PaperAsync(
                    link.Job,
                    paper,
                    hash => RecordPage.UrlOf(settings, hash),
                    context.RequestAborted
                );
                return printed?.Content;
            }
        );
        if (page is not null)
        {
            SecretHeaders(context).CacheControl = "private, max-age=60";
            await WriteAsync(context, page.Content, Pdf);
        }
    }

    /// <summary>Says that something changed about this job, not what.</summary>
    private static async Task FollowAsync(
        string token,
        long? after,
        HttpContext context,
        LinkDoor door,
        SeeProgress see,
        IChangeNotices changes,
        IHostApplicationLifetime life
    )
    {
        var opening = await door.TryAsync(token, context.Connection.RemoteIpAddress, context.RequestAborted);
        if (opening.Link is not { } link)
        {
            await ClosedPage.AnswerAsync(context, opening.IsPaused);
            return;
        }

        SecretHeaders(context);
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
                notice => notice.JobId == link.Job.Value ? Changed : null,
                LongestStream,
                async ct => after is { } seen && await see.LatestAsync(link.Job, ct) > seen ? Changed : null
            );
        }
        finally
        {
            Interlocked.Decrement(ref streams);
        }
    }

    /// <summary>The kept page, or one that is made now and kept; null after saying that there is nothing.</summary>
    /// <param name="make">Null where the link is good but there is no such thing under it.</param>
    private static async Task<KeptPage?> OpenAsync(
        string token,
        string variant,
        HttpContext context,
        ProgressCache cache,
        Func<OpenLink, Task<ReadOnlyMemory<byte>?>> make
    )
    {
        var hash = ProgressToken.Hash(token);
        if (cache.Find(hash, variant) is { } kept)
        {
            return kept;
        }

        // Before the link is looked at: what is changed from here on makes the page too old.
        var mark = cache.Mark();
        var opening = await context
            .RequestServices.GetRequiredService<LinkDoor>()
            .TryAsync(token, context.Connection.RemoteIpAddress, context.RequestAborted);
        if (opening.Link is { } link && await make(link) is { } content)
        {
            var page = new KeptPage(content, link);
            cache.Keep(hash, variant, page, mark);
            return page;
        }

        await ClosedPage.AnswerAsync(context, opening.IsPaused);
        return null;
    }

    private static IHeaderDictionary SecretHeaders(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        return headers;
    }

    private static async Task WriteAsync(HttpContext context, ReadOnlyMemory<byte> content, string type)
    {
        context.Response.ContentType = type;
        context.Response.ContentLength = content.Length;
        await context.Response.Body.WriteAsync(content, context.RequestAborted);
    }

    /// <summary>The whole document as text; it depends on nothing but what is handed in.</summary>
    /// <param name="address">Of the page, for its photos and papers.</param>
    public static Task<string> RenderAsync(
        ProgressView view,
        ProgressWords words,
        string address,
        IServiceProvider services,
        ILoggerFactory loggers
    ) =>
        StandaloneHtml.RenderAsync<ProgressDocument>(
            new Dictionary<string, object?>
            {
                [nameof(ProgressDocument.View)] = view,
                [nameof(ProgressDocument.Words)] = words,
                [nameof(ProgressDocument.Address)] = address,
            },
            services,
            loggers
        );
}
