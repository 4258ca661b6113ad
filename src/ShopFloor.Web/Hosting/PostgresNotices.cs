using Microsoft.EntityFrameworkCore;
using Npgsql;
using ShopFloor.Application.Common;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>Change notices across servers by PostgreSQL's LISTEN/NOTIFY: what one server commits, all servers' pages hear of.</summary>
/// <remarks>
/// A notification only wakes the listener; what happened is read from the history by number. Numbers follow the order of commits, so that nothing is
/// skipped: not what was committed while the connection was lost, and not what somebody failed to announce.
/// </remarks>
public sealed class PostgresNotices(
    ShopDatabase database,
    ChangeHub hub,
    IDbContextFactory<ShopDbContext> contexts,
    ILogger<PostgresNotices> log
) : BackgroundService, IChangeNotices
{
    private const string ChannelName = "shopfloor_changes";
    private const int PageOfEvents = 500;

    /// <summary>A notification that never came is made good after this time.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(15);

    private volatile bool isUp;

    public bool IsUp => isUp;

    public async Task PublishAsync(IReadOnlyList<ChangeNotice> notices, CancellationToken ct)
    {
        if (notices.Count == 0)
        {
            return;
        }

        hub.Announce(notices);
        try
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            var newest = notices.Max(n => n.Sequence).ToString(System.Globalization.CultureInfo.InvariantCulture);
            await db.Database.ExecuteSqlAsync($"SELECT pg_notify({ChannelName}, {newest})", ct);
        }
        catch (Exception exception) when (exception is NpgsqlException or TimeoutException)
        {
            // The change is committed; a lost notice only makes other servers' pages refresh later.
            log.LogWarning(exception, "A change notice could not be sent.");
            await hub.PublishAsync(notices, ct);
        }
    }

    public IAsyncEnumerable<ChangeNotice> ListenAsync(CancellationToken ct) => hub.ListenAsync(ct);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        long? last = null;
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await using var connection = new NpgsqlConnection(database.ConnectionString);
                await connection.OpenAsync(stoppingToken);
                await using (var listen = new NpgsqlCommand($"LISTEN {ChannelName}", connection))
                {
                    await listen.ExecuteNonQueryAsync(stoppingToken);
                }

                last ??= await NewestAsync(stoppingToken);
                while (true)
                {
                    last = await DeliverAfterAsync(last.Value, stoppingToken);
                    isUp = true;
                    await connection.WaitAsync(Patience, stoppingToken);
                }
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception exception)
                when (exception is NpgsqlException or System.Net.Sockets.SocketException or TimeoutException)
            {
                isUp = false;
                log.LogWarning(exception, "Listening for changes was interrupted; trying again in two seconds.");
                await Task.Delay(TimeSpan.FromSeconds(2), stoppingToken);
            }
        }
    }

    private async Task<long> NewestAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Events.MaxAsync(e => (long?)e.Sequence, ct) ?? 0;
    }

    /// <summary>Hands on every event after a number, in order; the number of the last one.</summary>
    private async Task<long> DeliverAfterAsync(long last, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        while (true)
        {
            var after = last;
            var events = await db
                .Events.AsNoTracking()
                .Where(e => e.Sequence > after)
                .OrderBy(e => e.Sequence)
                .Take(PageOfEvents)
                .Select(e => new
                {
                    e.Sequence,
                    e.Type,
                    e.Subject,
                    e.SubjectId,
                    e.Job,
                })
                .ToListAsync(ct);
            foreach (var one in events)
            {
                hub.Deliver(new ChangeNotice(one.Sequence, one.Type, one.Subject, one.SubjectId, one.Job?.Value));
                last = one.Sequence;
            }

            if (events.Count < PageOfEvents)
            {
                return last;
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
