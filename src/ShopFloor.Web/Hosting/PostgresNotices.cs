using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;

namespace ShopFloor.Web.Hosting;

/// <summary>Change notices across servers by PostgreSQL's LISTEN/NOTIFY: what one server commits, all servers' pages hear of.</summary>
public sealed class PostgresNotices(
    ShopDatabase database,
    ChangeHub hub,
    IDbContextFactory<ShopDbContext> contexts,
    ILogger<PostgresNotices> log
) : BackgroundService, IChangeNotices
{
    private const string ChannelName = "shopfloor_changes";

    public async Task PublishAsync(IReadOnlyList<ChangeNotice> notices, CancellationToken ct)
    {
        try
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            foreach (var notice in notices)
            {
                var text = JsonSerializer.Serialize(notice, StoredJson.Options);
                await db.Database.ExecuteSqlAsync($"SELECT pg_notify({ChannelName}, {text})", ct);
            }
        }
        catch (Exception exception) when (exception is NpgsqlException or TimeoutException)
        {
            // The change is committed; a lost notice only makes other pages refresh later.
            log.LogWarning(exception, "A change notice could not be sent.");
            await hub.PublishAsync(notices, ct);
        }
    }

    public IAsyncEnumerable<ChangeNotice> ListenAsync(CancellationToken ct) => hub.ListenAsync(ct);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await using var connection = new NpgsqlConnection(database.ConnectionString);
                await connection.OpenAsync(stoppingToken);
                connection.Notification += (_, e) =>
                    hub.Deliver(JsonSerializer.Deserialize<ChangeNotice>(e.Payload, StoredJson.Options)!);
                await using (var listen = new NpgsqlCommand($"LISTEN {ChannelName}", connection))
                {
                    await listen.ExecuteNonQueryAsync(stoppingToken);
                }

                while (true)
                {
                    await connection.WaitAsync(stoppingToken);
                }
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception exception)
                when (exception is NpgsqlException or System.Net.Sockets.SocketException or TimeoutException)
            {
                log.LogWarning(exception, "Listening for changes was interrupted; trying again in two seconds.");
                await Task.Delay(TimeSpan.FromSeconds(2), stoppingToken);
            }
        }
    }
}

public static class ChangeNoticeSetup
{
    /// <summary>In-process notices on SQLite, LISTEN/NOTIFY on PostgreSQL.</summary>
    public static void AddChangeNotices(this IServiceCollection services)
    {
        services.AddSingleton<ChangeHub>();
        services.AddSingleton<PostgresNotices>();
        services.AddSingleton<IChangeNotices>(s =>
            s.GetRequiredService<ShopDatabase>().Kind == DatabaseKind.Postgres
                ? s.GetRequiredService<PostgresNotices>()
                : s.GetRequiredService<ChangeHub>()
        );
        services.AddHostedService(s => new PostgresListener(s));
    }

    /// <summary>Starts the listener only where there is a PostgreSQL to listen to.</summary>
    private sealed class PostgresListener(IServiceProvider services) : IHostedService
    {
        private readonly PostgresNotices? notices =
            services.GetRequiredService<ShopDatabase>().Kind == DatabaseKind.Postgres
                ? services.GetRequiredService<PostgresNotices>()
                : null;

        public Task StartAsync(CancellationToken cancellationToken) =>
            notices?.StartAsync(cancellationToken) ?? Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) =>
            notices?.StopAsync(cancellationToken) ?? Task.CompletedTask;
    }
}
