using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Dies;

/// <summary>A die of the shop's bender.</summary>
/// <param name="Trials">Springback, rising.</param>
/// <param name="ChangedBy">Null for an integration.</param>
public sealed record BenderDieView(
    BenderDieId Id,
    long Version,
    string Name,
    double OutsideDiameterMm,
    double CentrelineRadiusMm,
    double MarkOffsetMm,
    double ClampMm,
    IReadOnlyList<SpringbackReading> Trials,
    string? Note,
    bool IsRetired,
    string? ChangedBy,
    DateTimeOffset ChangedAt
)
{
    /// <summary>What the bender is taken to for a wanted angle.</summary>
    public double BendToDegrees(double wantedDegrees) => new SpringbackTable(Name, Trials).BendToDegrees(wantedDegrees);
}

/// <summary>Reads the shop's dies: those in use first, by name.</summary>
public sealed class ReadBenderDies(QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<BenderDieView>>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<BenderDieView>>(
            Permission.SeeFloor,
            actor,
            async db =>
                Outcome<IReadOnlyList<BenderDieView>>.Success(
                    await DieViews.OfAsync(
                        db,
                        await db.Set<BenderDie>().OrderBy(d => d.IsRetired).ThenBy(d => d.Name).ToListAsync(ct),
                        ct
                    )
                ),
            ct
        );
}

/// <summary>Adds, changes and retires dies.</summary>
public sealed class KeepBenderDies(CommandRunner runner) : IUseCase
{
    /// <param name="MarkOffsetMm">0 when absent.</param>
    /// <param name="ClampMm">0 when absent.</param>
    public sealed record Request(
        string? Name = null,
        double? OutsideDiameterMm = null,
        double? CentrelineRadiusMm = null,
        double? MarkOffsetMm = null,
        double? ClampMm = null,
        IReadOnlyList<SpringbackReading>? Trials = null,
        string? Note = null
    );

    public Task<Outcome<BenderDieView>> AddAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<BenderDieView>(
            Permission.KeepFigures,
            envelope,
            request,
            async scope =>
            {
                // One after the other, so that two people cannot add the same name at once.
                await scope.LockSeriesAsync("die");
                if (await scope.Db.Set<BenderDie>().CountAsync(ct) >= BenderDie.MostOfShop)
                {
                    return Failure.Because("tooManyDies", $"The table holds at most {BenderDie.MostOfShop} dies.");
                }

                var added = BenderDie.Add(scope.NewId<BenderDieId>(), Details(request), scope.Actor.Person, scope.Now);
                if (!added.TryGet(out var die, out var failure))
                {
                    return failure;
                }

                if (await SameNameAsync(scope, die) is { } taken)
                {
                    return taken;
                }

                scope.Db.Add(die);
                return await SavedAsync(scope, die, "die.added");
            },
            ct
        );

    public Task<Outcome<BenderDieView>> ChangeAsync(
        BenderDieId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id, request },
            "die.changed",
            (die, scope) => die.Change(Details(request), scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    public Task<Outcome<BenderDieView>> RetireAsync(BenderDieId id, Envelope envelope, CancellationToken ct) =>
        OneAsync(
            id,
            new { id },
            "die.retired",
            (die, scope) => die.Retire(scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    private Task<Outcome<BenderDieView>> OneAsync(
        BenderDieId id,
        object content,
        string eventType,
        Func<BenderDie, CommandScope, Outcome<Done>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<BenderDieView>(
            Permission.KeepFigures,
            envelope,
            content,
            async scope =>
            {
                await scope.LockSeriesAsync("die");
                if (await scope.Db.Set<BenderDie>().SingleOrDefaultAsync(d => d.Id == id, ct) is not { } die)
                {
                    return Failure.Missing("die");
                }

                return (scope.Stale(die) ?? act(die, scope).Failure ?? await SameNameAsync(scope, die)) is { } refused
                    ? refused
                    : await SavedAsync(scope, die, eventType);
            },
            ct
        );

    private static async Task<Failure?> SameNameAsync(CommandScope scope, BenderDie die) =>
        !die.IsRetired
        && await scope
            .Db.Set<BenderDie>()
            .AnyAsync(d => d.Name == die.Name && d.Id != die.Id && !d.IsRetired, scope.Cancellation)
            ? Failure.Field("name", "Another die in use has this name; give them different ones.")
            : null;

    private static async Task<Outcome<BenderDieView>> SavedAsync(CommandScope scope, BenderDie die, string eventType)
    {
        scope.Record(
            new EventDraft(
                eventType,
                "benderDie",
                die.Id.Value,
                After: new
                {
                    outsideDiameterMm = Written(die.OutsideDiameterMm),
                    centrelineRadiusMm = Written(die.CentrelineRadiusMm),
                    markOffsetMm = Written(die.MarkOffsetMm),
                    clampMm = Written(die.ClampMm),
                    trials = die.Trials.Select(t => $"{Written(t.ReleasedDegrees)}; {Written(t.BentDegrees)}"),
                    isRetired = die.IsRetired,
                }
            )
        );
        await scope.SaveAsync();
        return (await DieViews.OfAsync(scope.Db, [die], scope.Cancellation))[0];
    }

    /// <summary>Hashed JSON holds no fractions: they are written as text.</summary>
    private static string Written(double figure) => figure.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static BenderDie.Details Details(Request r) =>
        new(r.Name, r.OutsideDiameterMm, r.CentrelineRadiusMm, r.MarkOffsetMm, r.ClampMm, r.Trials ?? [], r.Note);
}

internal static class DieViews
{
    public static async Task<IReadOnlyList<BenderDieView>> InUseAsync(ShopDbContext db, CancellationToken ct) =>
        await OfAsync(db, await db.Set<BenderDie>().Where(d => !d.IsRetired).OrderBy(d => d.Name).ToListAsync(ct), ct);

    public static async Task<IReadOnlyList<BenderDieView>> OfAsync(
        ShopDbContext db,
        IReadOnlyCollection<BenderDie> dies,
        CancellationToken ct
    )
    {
        var people = dies.Select(d => d.ChangedBy).OfType<PersonId>().Select(p => p.Value).ToHashSet();
        var names = await db
            .Users.AsNoTracking()
            .Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        return
        [
            .. dies.Select(d => new BenderDieView(
                d.Id,
                d.Version,
                d.Name,
                d.OutsideDiameterMm,
                d.CentrelineRadiusMm,
                d.MarkOffsetMm,
                d.ClampMm,
                d.Trials,
                d.Note,
                d.IsRetired,
                d.ChangedBy is { } by ? names.GetValueOrDefault(by.Value, "Somebody who has left") : null,
                d.ChangedAt
            )),
        ];
    }
}
