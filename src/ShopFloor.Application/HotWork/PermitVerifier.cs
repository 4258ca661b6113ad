using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Data.History;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.HotWork;

/// <summary>Whether hot-work permits are as the history tells: none is missing, none was closed before its watch was over or by another than its watcher, and hot work in work stands on one.</summary>
public sealed class PermitVerifier : IVerifier
{
    private const string Subject = "hotWorkPermit";

    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var differences = new List<string>();
        var permits = await db.Set<HotWorkPermit>().AsNoTracking().OrderBy(p => p.Number).ToListAsync(ct);
        var told = await EventFacts.OfAsync(db, Subject, ct);
        await NumberSeriesCheck.AddAsync(
            db,
            HotWorkLoading.Series,
            "hot-work permits",
            permits.Select(p => p.Number),
            differences,
            ct
        );
        var known = permits.Select(p => p.Id.Value).ToHashSet();
        differences.AddRange(
            told.Where(t => !known.Contains(t.Key))
                .Select(t => $"Hot-work permit {t.First().After("number")} was opened and is gone.")
        );
        foreach (var permit in permits)
        {
            differences.AddRange(
                permit
                    .Audit()
                    .Concat(Against([.. told[permit.Id.Value]], permit))
                    .Select(d => $"Hot-work permit {permit.Number}: {d}")
            );
        }

        differences.AddRange(await UnnotedAsync(db, permits, ct));
        return differences;
    }

    private static IEnumerable<string> Against(List<EventRow> told, HotWorkPermit permit)
    {
        int Count(string type) => told.Count(e => e.Type == type);
        var opened = told.Find(e => e.Type == "permit.opened");
        if (opened is null || opened.After("place") != permit.Place)
        {
            yield return $"the history does not tell of its opening in {permit.Place}.";
        }

        if (Count("permit.watchBegan") != permit.Spells.Count(s => s.Until is not null))
        {
            yield return $"the history tells of {Count("permit.watchBegan")} stops of hot work, the permit of {permit.Spells.Count(s => s.Until is not null)}.";
        }

        if (Count("permit.hotWorkBegan") > permit.Spells.Count)
        {
            yield return $"the history tells of {Count("permit.hotWorkBegan")} starts of hot work, the permit of {permit.Spells.Count}.";
        }

        if (Count("permit.watchHandedOver") < permit.WatcherChanges.Count)
        {
            yield return $"the history tells of {Count("permit.watchHandedOver")} changes of the watcher, the permit of {permit.WatcherChanges.Count}.";
        }

        var closed = told.Find(e => e.Type == "permit.closed");
        if (closed is null == permit.IsClosed || (closed is not null && closed.Person != permit.ClosedBy))
        {
            yield return permit.IsClosed
                ? "the history does not tell that its watcher closed it."
                : "the history tells that it was closed, and it is open.";
        }
    }

    /// <summary>Hot work that somebody is on and no permit knows of, and the other way round.</summary>
    private static async Task<IEnumerable<string>> UnnotedAsync(
        ShopDbContext db,
        List<HotWorkPermit> permits,
        CancellationToken ct
    )
    {
        var running = (
            await db.Set<Operation>().AsNoTracking().Where(o => o.Progress == OperationProgress.InWork).ToListAsync(ct)
        )
            .Where(o => o.Route.HotWork)
            .ToDictionary(o => o.Id, o => o.Code);
        var noted = permits.SelectMany(p => p.Spells.Where(s => s.Until is null).Select(s => s.Operation)).ToHashSet();
        return running
            .Where(r => !noted.Contains(r.Key))
            .Select(r => $"Hot work {r.Value} is in work and stands on no permit.")
            .Concat(
                noted
                    .Where(n => !running.ContainsKey(n))
                    .Select(n => $"A permit says that hot work {n.Value} runs, and nobody is on it.")
            );
    }
}
