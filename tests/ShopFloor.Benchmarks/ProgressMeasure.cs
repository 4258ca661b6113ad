using System.Diagnostics;
using System.Globalization;
using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>
/// Requests per second of a customer's page against those of an endpoint that answers two letters, by turns, in one process, over real connections; the clients are in the process too and cost
/// both alike. The goal is 0.6 of the bare one.
/// </summary>
internal static class ProgressMeasure
{
    private const int Clients = 4;
    private const int Rounds = 15;
    private static readonly TimeSpan Turn = TimeSpan.FromSeconds(1);

    public static async Task RunAsync()
    {
        using var server = LiveServer.Open(null);
        await using var scope = server.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None);
        var page = new Uri($"{server.Url}/p/{await TokenAsync(scope.ServiceProvider)}");
        var live = new Uri($"{server.Url}/health/live");
        await using var bare = Bare(out var empty);
        await bare.StartAsync();

        using var client = new HttpClient(new SocketsHttpHandler { MaxConnectionsPerServer = Clients });
        Say($"The page has {(await client.GetByteArrayAsync(page)).Length} bytes, without photos.");
        await PaintAsync(page);
        foreach (var address in new[] { page, live, empty })
        {
            await PerSecondAsync(client, address, 2 * Turn);
        }

        var (ofBare, ofLive, pages) = (new List<double>(), new List<double>(), new List<double>());
        for (var round = 0; round < Rounds; round++)
        {
            var rate = await PerSecondAsync(client, page, Turn);
            ofBare.Add(rate / await PerSecondAsync(client, empty, Turn));
            ofLive.Add(rate / await PerSecondAsync(client, live, Turn));
            pages.Add(rate);
        }

        Say(
            $"{Rounds} rounds of {Turn.TotalSeconds:0} s by turns, {Clients} clients: {Median(pages):0} pages a second; {Median(ofBare):0.00} of a bare endpoint ({ofBare.Min():0.00} to {ofBare.Max():0.00}); {Median(ofLive):0.00} of /health/live, which goes through the program's own pipeline ({ofLive.Min():0.00} to {ofLive.Max():0.00})"
        );
    }

    private static async Task PaintAsync(Uri page)
    {
        var paints = await PhonePaint.MeasureAsync(page);
        Say(
            $"On a slow phone the largest thing stands after {paints[paints.Count / 2]:0} ms at the median of {paints.Count} openings ({paints[0]:0} to {paints[^1]:0})"
        );
    }

    /// <summary>A program that does nothing else.</summary>
    private static WebApplication Bare(out Uri address)
    {
        address = new Uri($"http://localhost:{Ports.Free()}/");
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls(address.AbsoluteUri);
        builder.Logging.ClearProviders();
        var app = builder.Build();
        app.MapGet("/", () => "ok");
        return app;
    }

    private static async Task<string> TokenAsync(IServiceProvider services)
    {
        var contexts = services.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        var job = await db.Set<Job>().Where(j => j.State == JobState.Open).OrderBy(j => j.Number).FirstAsync();
        var made = await services
            .GetRequiredService<CreateProgressLink>()
            .RunAsync(job.Id, new CreateProgressLink.Request(), Envelope.Of(Actor.System), CancellationToken.None);
        return made.Value.Token;
    }

    private static async Task<double> PerSecondAsync(HttpClient client, Uri address, TimeSpan turn)
    {
        var begin = Stopwatch.GetTimestamp();
        var counts = await Task.WhenAll(
            Enumerable.Range(0, Clients).Select(_ => AskAsync(client, address, begin, turn))
        );
        return counts.Sum() / Stopwatch.GetElapsedTime(begin).TotalSeconds;
    }

    private static async Task<int> AskAsync(HttpClient client, Uri address, long begin, TimeSpan turn)
    {
        var count = 0;
        while (Stopwatch.GetElapsedTime(begin) < turn)
        {
            using var answer = await client.GetAsync(address);
            if (answer.StatusCode != HttpStatusCode.OK)
            {
                throw new InvalidOperationException($"Answered by {answer.StatusCode}.");
            }

            count++;
        }

        return count;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
