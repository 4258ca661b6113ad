using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.HotWork;

/// <summary>A permit with its watch, as people see it.</summary>
/// <param name="State"><c>open</c>, <c>hotWork</c>, <c>watch</c>, <c>watchOver</c> or <c>closed</c>.</param>
/// <param name="StateText">The same in a sentence.</param>
/// <param name="PlaceTitle">Reads after "in".</param>
/// <param name="Car">The car that stands there; null where none does.</param>
/// <param name="WatchUntil">End of the watch by the server's clock; null before the first stop of hot work.</param>
public sealed record PermitView(
    HotWorkPermitId Id,
    long Version,
    string Number,
    string Place,
    string PlaceTitle,
    string State,
    string StateText,
    JobId? JobId,
    string? JobNumber,
    string? Car,
    string OpenedBy,
    DateTimeOffset OpenedAt,
    DateTimeOffset ValidUntil,
    PersonId WatcherId,
    string Watcher,
    int WatchMinutes,
    DateTimeOffset? WatchSince,
    DateTimeOffset? WatchUntil,
    IReadOnlyList<PointView> Answers,
    IReadOnlyList<HotSpellView> Spells,
    IReadOnlyList<WatcherChangeView> WatcherChanges,
    DateTimeOffset? ClosedAt,
    string? ClosedBy,
    string? CloseNote
)
{
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsClosed => ClosedAt is not null;
}

/// <summary>One point of the checklist, answered.</summary>
public sealed record PointView(string Point, string Title, PointFinding? Finding, string? Note);

public sealed record HotSpellView(string Operation, JobId JobId, DateTimeOffset From, DateTimeOffset? Until);

public sealed record WatcherChangeView(string From, string To, DateTimeOffset At);

/// <summary>Turns permits into what people see.</summary>
internal static class PermitViews
{
    public static async Task<IReadOnlyList<PermitView>> OfAsync(
        ShopDbContext db,
        IReadOnlyCollection<HotWorkPermit> permits,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (permits.Count == 0)
        {
            return [];
        }

        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var people = permits
            .SelectMany(p =>
                p.WatcherChanges.SelectMany(c => new[] { c.From, c.To })
                    .Append(p.OpenedBy)
                    .Append(p.Watcher)
                    .Append(p.ClosedBy ?? p.Watcher)
            )
            .Select(p => p.Value)
            .ToHashSet();
        var names = await db
            .Users.AsNoTracking()
            .Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        string Name(PersonId id) => names.GetValueOrDefault(id.Value, "Somebody who has left");
        var ids = permits.Where(p => p.JobId is not null).Select(p => p.JobId!.Value).Distinct().ToList();
        var jobs = await db.Set<Job>().AsNoTracking().Where(j => ids.Contains(j.Id)).ToListAsync(ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var facts = new GateFacts { Now = now, Zone = shop.Zone };
        var places = ShopPlaces.Of(shop.Places);
        return
        [
            .. permits.Select(p =>
            {
                var job = jobs.Find(j => j.Id == p.JobId);
                var standing = p.Standing(now);
                return new PermitView(
                    p.Id,
                    p.Version,
                    p.Number,
                    p.Place,
                    places.Title(p.Place),
                    CodeOf(standing),
                    Sentence(p, standing, facts, Name),
                    p.JobId,
                    job?.Number,
                    job is null ? null : JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                    Name(p.OpenedBy),
                    p.OpenedAt,
                    p.ValidUntil,
                    p.Watcher,
                    Name(p.Watcher),
                    p.WatchMinutes,
                    p.LastSparkAt,
                    p.WatchUntil,
                    [
                        .. PermitPoint.All.Select(point =>
                            p.Answers.FirstOrDefault(a => a.Point == point.Code) is { } answer
                                ? new PointView(point.Code, point.Title, answer.Finding, answer.Note)
                                : new PointView(point.Code, point.Title, null, null)
                        ),
                    ],
                    [.. p.Spells.Select(s => new HotSpellView(s.Code, s.Job, s.From, s.Until))],
                    [.. p.WatcherChanges.Select(c => new WatcherChangeView(Name(c.From), Name(c.To), c.At))],
                    p.ClosedAt,
                    p.ClosedBy is { } by ? Name(by) : null,
                    p.CloseNote
                );
            }),
        ];
    }

    private static string CodeOf(PermitStanding standing) =>
        standing switch
        {
            PermitStanding.Open => "open",
            PermitStanding.HotWork => "hotWork",
            PermitStanding.Watch => "watch",
            PermitStanding.WatchOver => "watchOver",
            _ => "closed",
        };

    private static string Sentence(
        HotWorkPermit permit,
        PermitStanding standing,
        GateFacts facts,
        Func<PersonId, string> name
    ) =>
        standing switch
        {
            PermitStanding.Open open => facts.Now < open.ValidUntil
                ? $"Open until {facts.At(open.ValidUntil)}; no hot work yet."
                : $"Its shift ended at {facts.At(open.ValidUntil)} without hot work; {name(permit.Watcher)} closes it.",
            PermitStanding.HotWork hot =>
                $"Hot work runs: {string.Join(", ", hot.Running.Select(s => s.Code))}. {name(permit.Watcher)} watches.",
            PermitStanding.Watch watch =>
                $"Fire watch until {facts.At(watch.Until)}: {name(permit.Watcher)} stays and looks.",
            PermitStanding.WatchOver over =>
                $"The watch was over at {facts.At(over.Since)}: {name(permit.Watcher)} looks once more and confirms.",
            PermitStanding.Closed closed => $"Closed at {facts.At(closed.At)}.",
            _ => throw new InvalidOperationException("Unknown standing."),
        };
}
