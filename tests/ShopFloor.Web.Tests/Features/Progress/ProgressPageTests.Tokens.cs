using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Progress;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;
using ShopFloor.Domain.Progress;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Progress;

/// <summary>What tokens open, how guessing ends, and that they are written down nowhere.</summary>
public abstract partial class ProgressPageTests
{
    [Fact]
    public async Task Guessing_finds_nothing_and_is_stopped_for_that_network_on_every_server()
    {
        var car = await CarStory.BeginAsync(shop);
        var right = await LinkAsync(car);
        var statuses = new List<int>();
        for (var n = 0; n < AttemptRule.OfLinksFrom.Tries + 20; n++)
        {
            statuses.Add((await FromAsync(shop.Server, "198.51.100.20", $"/p/{ProgressToken.New()}")).Status);
        }

        Assert.Equal(AttemptRule.OfLinksFrom.Tries, statuses.Count(s => s == 404));
        Assert.Equal(20, statuses.Count(s => s == 429));
        Assert.Equal(429, (await FromAsync(shop.Server, "198.51.100.20", right)).Status);
        Assert.Equal(200, (await FromAsync(shop.Server, "198.51.100.21", right)).Status);
        await using (var other = shop.WithWebHostBuilder(_ => { }))
        {
            Assert.Equal(429, (await FromAsync(other.Server, "198.51.100.20", $"{right}?lang=de")).Status);
            Assert.Equal(200, (await FromAsync(other.Server, "198.51.100.21", right)).Status);
        }

        shop.Clock.Advance(AttemptRule.OfLinksFrom.FirstPause);
        Assert.Equal(200, (await FromAsync(shop.Server, "198.51.100.20", right)).Status);
    }

    [Fact]
    public async Task A_new_link_can_end_the_old_ones_and_how_often_one_was_opened_is_told()
    {
        var car = await CarStory.BeginAsync(shop);
        var old = await LinkAsync(car);
        await FromAsync(shop.Server, "198.51.100.30", old);
        var made = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { endsOthers = true });
        var path = new Uri(made.GetProperty("url").GetString()!).AbsolutePath;
        Assert.Equal(404, (await FromAsync(shop.Server, "198.51.100.30", old)).Status);
        Assert.Equal(200, (await FromAsync(shop.Server, "198.51.100.30", path)).Status);
        Assert.Equal(200, (await FromAsync(shop.Server, "198.51.100.30", path)).Status);
        Assert.Equal(200, (await FromAsync(shop.Server, "198.51.100.30", path, "X-Again")).Status);
        await shop.Services.GetRequiredService<ProgressUses>().FlushAsync(Ct);
        var links = (await car.Desk.GetJsonAsync($"{car.JobPath}/progress-links"))
            .GetProperty("items")
            .EnumerateArray()
            .ToList();
        var newest = links.Single(l => l.GetProperty("id").GetString() == made.GetProperty("id").GetString());
        Assert.Equal(2, newest.GetProperty("opened").GetInt32());
        Assert.Equal(
            shop.Clock.GetUtcNow(),
            newest.GetProperty("lastOpenedAt").GetDateTimeOffset(),
            TimeSpan.FromSeconds(1)
        );
        Assert.Single(links, l => l.GetProperty("isValid").GetBoolean());
    }

    [Fact]
    public async Task No_token_reaches_a_log_a_scope_or_a_trace_not_even_when_the_page_fails()
    {
        var car = await CarStory.BeginAsync(shop);
        var right = (await LinkAsync(car))[^43..];
        var wrong = ProgressToken.New();
        var failing = new Failing();
        using var seen = new Seen();
        await using var server = shop.WithWebHostBuilder(builder =>
        {
            foreach (
                var category in new[]
                {
                    "Default",
                    "Microsoft",
                    "Microsoft.EntityFrameworkCore.Database.Command",
                    "System",
                }
            )
            {
                builder.UseSetting($"Logging:LogLevel:{category}", "Trace");
            }

            builder.ConfigureLogging(l => l.SetMinimumLevel(LogLevel.Trace).AddProvider(seen));
            builder.ConfigureTestServices(s => s.AddSingleton<ICustomerLanguage>(failing));
        });
        Assert.Equal(200, (await FromAsync(server.Server, "198.51.100.40", $"/p/{right}?lang=de")).Status);
        Assert.Equal(404, (await FromAsync(server.Server, "198.51.100.40", $"/p/{wrong}")).Status);
        Assert.Equal(404, (await FromAsync(server.Server, "198.51.100.40", $"/p/{right}/papers/quote")).Status);
        Assert.Equal(404, (await FromAsync(server.Server, "198.51.100.40", $"/u/{wrong}")).Status);
        failing.IsOn = true;
        var failed = await FromAsync(server.Server, "198.51.100.40", $"/p/{right}");
        Assert.Equal(500, failed.Status);
        Assert.DoesNotContain(right, failed.Body, StringComparison.Ordinal);
        var all = string.Join('\n', seen.Lines);
        // The log was on: requests, routes and the failure are in it.
        Assert.Contains("/p/hidden", all, StringComparison.Ordinal);
        Assert.Contains("Request starting", all, StringComparison.Ordinal);
        Assert.Contains(Failing.Sentence, all, StringComparison.Ordinal);
        foreach (var token in new[] { right, wrong })
        {
            Assert.DoesNotContain(token, all, StringComparison.Ordinal);
        }
    }

    /// <summary>One request from a network of its own.</summary>
    private static async Task<(int Status, string Body)> FromAsync(
        TestServer server,
        string address,
        string path,
        string? header = null
    )
    {
        var query = path.IndexOf('?', StringComparison.Ordinal);
        var context = await server.SendAsync(
            c =>
            {
                c.Request.Method = "GET";
                c.Request.Scheme = "https";
                c.Request.Host = new HostString("shop.example");
                c.Request.Path = query < 0 ? path : path[..query];
                c.Request.QueryString = new QueryString(query < 0 ? "" : path[query..]);
                c.Connection.RemoteIpAddress = IPAddress.Parse(address);
                if (header is not null)
                {
                    c.Request.Headers[header] = "1";
                }
            },
            Ct
        );
        using var reader = new StreamReader(context.Response.Body);
        return (context.Response.StatusCode, await reader.ReadToEndAsync(Ct));
    }

    /// <summary>Everything that is logged, scopes included, and every finished activity.</summary>
    private sealed class Seen : ILoggerProvider, ISupportExternalScope
    {
        private readonly ActivityListener listener;
        private IExternalScopeProvider scopes = new LoggerExternalScopeProvider();

        public Seen()
        {
            listener = new ActivityListener
            {
                ShouldListenTo = _ => true,
                Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllDataAndRecorded,
                ActivityStopped = a =>
                    Lines.Enqueue(
                        $"{a.DisplayName} {string.Join(' ', a.TagObjects.Select(t => $"{t.Key}={t.Value}"))}"
                    ),
            };
            ActivitySource.AddActivityListener(listener);
        }

        public ConcurrentQueue<string> Lines { get; } = new();

        public ILogger CreateLogger(string categoryName) => new Line(this);

        public void SetScopeProvider(IExternalScopeProvider scopeProvider) => scopes = scopeProvider;

        public void Dispose() => listener.Dispose();

        private sealed class Line(Seen seen) : ILogger
        {
            public IDisposable? BeginScope<TState>(TState state)
                where TState : notnull => seen.scopes.Push(state);

            public bool IsEnabled(LogLevel logLevel) => true;

            public void Log<TState>(
                LogLevel logLevel,
                EventId eventId,
                TState state,
                Exception? exception,
                Func<TState, Exception?, string> formatter
            )
            {
                var parts = state is IEnumerable<KeyValuePair<string, object?>> pairs
                    ? string.Join(' ', pairs.Select(p => $"{p.Key}={p.Value}"))
                    : "";
                seen.Lines.Enqueue($"{formatter(state, exception)} {parts} {exception}");
                seen.scopes.ForEachScope(
                    (scope, lines) =>
                        lines.Enqueue(
                            scope is IEnumerable<KeyValuePair<string, object?>> named
                                ? string.Join(' ', named.Select(p => $"{p.Key}={p.Value}"))
                                : $"{scope}"
                        ),
                    seen.Lines
                );
            }
        }
    }

    /// <summary>Lets the making of a page fail.</summary>
    private sealed class Failing : ICustomerLanguage
    {
        public const string Sentence = "Something broke on purpose.";

        public bool IsOn { get; set; }

        public Task<string?> OfAsync(ShopDbContext db, CustomerId customer, CancellationToken ct) =>
            IsOn ? throw new InvalidOperationException(Sentence) : Task.FromResult<string?>(null);
    }
}
