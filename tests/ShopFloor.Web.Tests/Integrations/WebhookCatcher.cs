using System.Collections.Concurrent;
using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Integrations;

/// <summary>Another program's web server in the test: keeps what is posted to it, and answers what it is told to.</summary>
internal sealed class WebhookCatcher : IAsyncDisposable
{
    private readonly WebApplication app;

    private WebhookCatcher(WebApplication app) => this.app = app;

    public sealed record Post(string Path, IHeaderDictionary Headers, string Body);

    public int Port { get; } = Ports.Free();

    public string Address => $"http://127.0.0.1:{Port}/hooks";

    public ConcurrentQueue<Post> Caught { get; } = new();

    /// <summary>What it answers.</summary>
    public int Status { get; set; } = 200;

    public static async Task<WebhookCatcher> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var made = new WebhookCatcher(builder.Build());
        made.app.Urls.Add($"http://{IPAddress.Loopback}:{made.Port}");
        made.app.Run(made.TakeAsync);
        await made.app.StartAsync();
        return made;
    }

    private async Task TakeAsync(HttpContext context)
    {
        using var reader = new StreamReader(context.Request.Body);
        var headers = new HeaderDictionary(context.Request.Headers.ToDictionary(h => h.Key, h => h.Value));
        Caught.Enqueue(new Post(context.Request.Path, headers, await reader.ReadToEndAsync()));
        context.Response.StatusCode = Status;
        if (Status == 302)
        {
            context.Response.Headers.Location = "/elsewhere";
        }
    }

    public async ValueTask DisposeAsync() => await app.DisposeAsync();
}
