using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Removed;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Removed;

/// <summary>One removed part.</summary>
/// <param name="Label">What stands on its label.</param>
/// <param name="IsUnaccounted">It is out, and nobody has said what became of it.</param>
public sealed record PartOutView(
    PartOutId Id,
    long Version,
    JobId JobId,
    int Number,
    string Label,
    string What,
    string TakenFrom,
    int Fasteners,
    string Place,
    PhotoId? PhotoId,
    PartOutState State,
    bool IsUnaccounted,
    string? TakenBy,
    DateTimeOffset TakenAt,
    int? FastenersBack,
    string? SettledBy,
    DateTimeOffset? SettledAt,
    string? Note,
    IReadOnlyList<MoveView> Moves
);

public sealed record MoveView(string Place, string? By, DateTimeOffset At);

/// <summary>What came out of a job's car, and where car, keys and parts are.</summary>
/// <param name="Car">Where the car stands; null until somebody says.</param>
public sealed record CarThings(
    JobId JobId,
    string JobNumber,
    string CarTitle,
    bool IsOpen,
    string? Car,
    string? Keys,
    IReadOnlyList<MoveView> CarMoves,
    IReadOnlyList<MoveView> KeyMoves,
    IReadOnlyList<PartOutView> Parts
)
{
    /// <summary>Parts that are out and unaccounted for.</summary>
    public int OutCount => Parts.Count(p => p.IsUnaccounted);
}

/// <summary>Reads what came out of a car.</summary>
public sealed class ReadCarThings(QueryRunner queries) : IUseCase
{
    public Task<Outcome<CarThings>> RunAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<CarThings>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is { } job
                    ? await PartViews.ThingsAsync(db, job, ct)
                    : Failure.Missing("job"),
            ct
        );
}

internal static class PartViews
{
    public static async Task<CarThings> ThingsAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var parts = await db.Set<PartOut>().Where(p => p.JobId == job.Id).OrderBy(p => p.Number).ToListAsync(ct);
        var where = await db.Set<Whereabouts>().SingleOrDefaultAsync(w => w.JobId == job.Id, ct);
        var names = await NamesAsync(db, parts, where, ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        return new CarThings(
            job.Id,
            job.Number,
            JobSubject.Title(job, car),
            await IsCarHereAsync(db, job, ct),
            where?.Car,
            where?.Keys,
            Moves(where?.CarMoves ?? [], names),
            Moves(where?.KeyMoves ?? [], names),
            [.. parts.Select(p => Of(p, job.Number, names))]
        );
    }

    /// <summary>Neither handed over nor returned.</summary>
    public static async Task<bool> IsCarHereAsync(ShopDbContext db, Job job, CancellationToken ct) =>
        job.HasCarHere
        && (
            job.State == JobState.Open
            || (job.State == JobState.Cancelled && !await db.Set<CarReturn>().AnyAsync(r => r.JobId == job.Id, ct))
        );

    public static async Task<PartOutView> OneAsync(
        ShopDbContext db,
        PartOut part,
        string number,
        CancellationToken ct
    ) => Of(part, number, await NamesAsync(db, [part], null, ct));

    private static PartOutView Of(PartOut p, string jobNumber, Dictionary<Guid, string> names) =>
        new(
            p.Id,
            p.Version,
            p.JobId,
            p.Number,
            p.Label(jobNumber),
            p.What,
            p.TakenFrom,
            p.Fasteners,
            p.Place,
            p.PhotoId,
            p.State,
            p.IsUnaccounted,
            Name(p.TakenBy, names),
            p.TakenAt,
            p.FastenersBack,
            Name(p.SettledBy, names),
            p.SettledAt,
            p.Note,
            Moves(p.Moves, names)
        );

    private static IReadOnlyList<MoveView> Moves(IReadOnlyList<PlaceMove> moves, Dictionary<Guid, string> names) =>
        [.. moves.Select(m => new MoveView(m.Place, Name(m.By, names), m.At))];

    private static string? Name(PersonId? person, Dictionary<Guid, string> names) =>
        person is { } id ? names.GetValueOrDefault(id.Value, "Somebody who has left") : null;

    private static async Task<Dictionary<Guid, string>> NamesAsync(
        ShopDbContext db,
        IReadOnlyCollection<PartOut> parts,
        Whereabouts? where,
        CancellationToken ct
    )
    {
        var people = parts
            .SelectMany(p => p.Moves.Select(m => m.By).Append(p.TakenBy).Append(p.SettledBy))
            .Concat((where?.CarMoves ?? []).Concat(where?.KeyMoves ?? []).Select(m => m.By))
            .OfType<PersonId>()
            .Select(p => p.Value)
            .ToHashSet();
        return await db
            .Users.AsNoTracking()
            .Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
    }
}

/// <summary>Whether everything that came out of a car is accounted for.</summary>
internal static class PartsAccount
{
    private const int MostNamed = 5;

    /// <summary>One reason with the first parts by name; empty where all are accounted for.</summary>
    public static async Task<IReadOnlyList<Reason>> ObstaclesAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        var open = await db.Set<PartOut>()
            .Where(p => p.JobId == job && p.State == PartOutState.Out)
            .OrderBy(p => p.Number)
            .Select(p => new { p.What, p.Place })
            .ToListAsync(ct);
        return open.Count == 0
            ? []
            :
            [
                new Reason(
                    "partsOut",
                    $"{open.Count} removed {(open.Count == 1 ? "part is" : "parts are")} not accounted for: "
                        + string.Join(", ", open.Take(MostNamed).Select(p => $"{p.What} ({p.Place})"))
                        + (open.Count > MostNamed ? " …" : "")
                        + ". Refit and tick them off, or let the owner record that they stay out."
                ),
            ];
    }
}
