using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Setup;
using ShopFloor.Application.Throughput;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Throughput;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>The data of the owner's page for a recent week, in a shop with 1,000 jobs behind it and in one with 100,000, read by turns. The goal is 1.5 times at most.</summary>
internal static class WeekMeasure
{
    private const int Few = HistoryCopies.Recent;
    private const int Many = 100_000;
    private const int Warm = 5;
    private const int Rounds = 25;

    /// <param name="only"><c>sqlite</c> or <c>postgres</c>; null: both.</param>
    public static async Task RunAsync(string? only)
    {
        if (only is null or "sqlite")
        {
            await CompareAsync("SQLite", () => Task.FromResult<string?>(null));
        }

        if (only is null or "postgres")
        {
            await CompareAsync("PostgreSQL", async () => await PostgresServer.NewDatabaseAsync());
        }
    }

    private static async Task CompareAsync(string name, Func<Task<string?>> database)
    {
        using var few = await LoadedAsync(await database(), Few);
        using var many = await LoadedAsync(await database(), Many);
        foreach (var (what, read) in Readings)
        {
            var (small, large, ratios) = (new List<double>(), new List<double>(), new List<double>());
            for (var round = -Warm; round < Rounds; round++)
            {
                var a = await TimeAsync(few, read);
                var b = await TimeAsync(many, read);
                if (round >= 0)
                {
                    small.Add(a);
                    large.Add(b);
                    ratios.Add(b / a);
                }
            }

            Say(
                $"{name}, {what}: {Median(small):0} ms with {Few:N0} jobs, {Median(large):0} ms with {Many:N0}, ratio of medians {Median(large) / Median(small):0.00} (each round {Median(ratios):0.00}, {ratios.Min():0.00} to {ratios.Max():0.00})"
            );
        }
    }

    private static readonly (string What, Func<IServiceProvider, Task> Read)[] Readings =
    [
        ("last week's figures", s => FiguresAsync(s, 7)),
        ("this week's figures", s => FiguresAsync(s, 0)),
        ("the plan's load", LoadAsync),
    ];

    private static async Task FiguresAsync(IServiceProvider services, int daysBack)
    {
        var shop = await ShopAsync(services);
        var monday = FlowWeek.MondayOf(shop.LocalDay(services.GetRequiredService<TimeProvider>().GetUtcNow()));
        var report = await services
            .GetRequiredService<GetWeekReport>()
            .RunAsync(monday.AddDays(-daysBack), null, Actor.System, CancellationToken.None);
        if (report.Value.TieOuts.Any(t => !t.Holds))
        {
            throw new InvalidOperationException("The figures do not tie out.");
        }
    }

    private static async Task LoadAsync(IServiceProvider services) =>
        _ = (await services.GetRequiredService<ReadPlan>().RunAsync(Actor.System, CancellationToken.None)).Value;

    private static async Task<Shop> ShopAsync(IServiceProvider services)
    {
        var contexts = services.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        return await db.Shops.SingleAsync();
    }

    private static async Task<LiveServer> LoadedAsync(string? database, int jobs)
    {
        var server = LiveServer.Open(database);
        await using var scope = server.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None);
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        var begin = Stopwatch.GetTimestamp();
        await HistoryCopies.AddAsync(db, jobs);
        Say(
            $"{await db.Set<Job>().CountAsync():N0} jobs, {await db.Set<Operation>().CountAsync():N0} steps; copied in {Stopwatch.GetElapsedTime(begin).TotalSeconds:0} s"
        );
        return server;
    }

    private static async Task<double> TimeAsync(LiveServer server, Func<IServiceProvider, Task> read)
    {
        await using var scope = server.Services.CreateAsyncScope();
        var begin = Stopwatch.GetTimestamp();
        await read(scope.ServiceProvider);
        return Stopwatch.GetElapsedTime(begin).TotalMilliseconds;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
