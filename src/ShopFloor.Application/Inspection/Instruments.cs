using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Inspection;

/// <summary>An instrument of the register.</summary>
/// <param name="IsOverdue">Its calibration no longer holds today: nothing passes by it.</param>
/// <param name="DueInDays">Days the calibration still holds; null where it needs none.</param>
public sealed record InstrumentView(
    InstrumentId Id,
    long Version,
    string Name,
    InstrumentKind Kind,
    string Unit,
    decimal Uncertainty,
    DateOnly? CalibrationDueOn,
    bool IsOverdue,
    int? DueInDays,
    string? Note,
    bool IsRetired
);

/// <summary>Reads the register: those in use first, by name.</summary>
public sealed class ReadInstruments(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<InstrumentView>>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<InstrumentView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                var all = await db.Set<Instrument>().OrderBy(i => i.IsRetired).ThenBy(i => i.Name).ToListAsync(ct);
                return all.ConvertAll(i => Instruments.ViewOf(i, today));
            },
            ct
        );
}

/// <summary>Adds, changes and retires instruments.</summary>
public sealed class KeepInstruments(CommandRunner runner) : IUseCase
{
    /// <param name="Kind">caliper, tape, feelerGauge, angleGauge, level, thickness, torque or other.</param>
    /// <param name="Uncertainty">Half-width in <paramref name="Unit"/>; 0 when absent.</param>
    public sealed record Request(
        string? Name = null,
        InstrumentKind? Kind = null,
        string? Unit = null,
        decimal? Uncertainty = null,
        DateOnly? CalibrationDueOn = null,
        string? Note = null
    )
    {
        internal Instrument.Details Details => new(Name, Kind, Unit, Uncertainty, CalibrationDueOn, Note);
    }

    public Task<Outcome<InstrumentView>> AddAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<InstrumentView>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                // One after the other, so that two people cannot add the same name at once.
                await scope.LockSeriesAsync("gauge");
                if (await scope.Db.Set<Instrument>().CountAsync(ct) >= Instrument.MostOfShop)
                {
                    return Failure.Because(
                        "tooManyInstruments",
                        $"The register holds at most {Instrument.MostOfShop} instruments."
                    );
                }

                var added = Instrument.Add(scope.NewId<InstrumentId>(), request.Details, scope.Actor.Person, scope.Now);
                if (!added.TryGet(out var instrument, out var failure))
                {
                    return failure;
                }

                if (await SameNameAsync(scope, instrument) is { } taken)
                {
                    return taken;
                }

                scope.Db.Add(instrument);
                return await SavedAsync(scope, instrument, "instrument.added");
            },
            ct
        );

    public Task<Outcome<InstrumentView>> ChangeAsync(
        InstrumentId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id, request },
            "instrument.changed",
            (instrument, scope) => instrument.Change(request.Details, scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    public Task<Outcome<InstrumentView>> RetireAsync(InstrumentId id, Envelope envelope, CancellationToken ct) =>
        OneAsync(
            id,
            new { id },
            "instrument.retired",
            (instrument, scope) => instrument.Retire(scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    private Task<Outcome<InstrumentView>> OneAsync(
        InstrumentId id,
        object content,
        string eventType,
        Func<Instrument, CommandScope, Outcome<Done>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<InstrumentView>(
            Permission.RunShop,
            envelope,
            content,
            async scope =>
            {
                await scope.LockSeriesAsync("gauge");
                if (await scope.Db.Set<Instrument>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } instrument)
                {
                    return Failure.Missing("instrument");
                }

                return
                    (
                        scope.Stale(instrument)
                        ?? act(instrument, scope).Failure
                        ?? await SameNameAsync(scope, instrument)
                    )
                        is { } refused
                    ? refused
                    : await SavedAsync(scope, instrument, eventType);
            },
            ct
        );

    private static async Task<Failure?> SameNameAsync(CommandScope scope, Instrument instrument) =>
        !instrument.IsRetired
        && await scope
            .Db.Set<Instrument>()
            .AnyAsync(i => i.Name == instrument.Name && i.Id != instrument.Id && !i.IsRetired, scope.Cancellation)
            ? Failure.Field("name", "Another instrument in use has this name; mark them differently.")
            : null;

    private static async Task<Outcome<InstrumentView>> SavedAsync(
        CommandScope scope,
        Instrument instrument,
        string eventType
    )
    {
        scope.Record(
            new EventDraft(
                eventType,
                "instrument",
                instrument.Id.Value,
                After: new
                {
                    instrument.Name,
                    instrument.Kind,
                    instrument.Unit,
                    uncertainty = InspectionLine.Text(instrument.Uncertainty),
                    instrument.CalibrationDueOn,
                    instrument.IsRetired,
                }
            )
        );
        await scope.SaveAsync();
        return Instruments.ViewOf(instrument, (await scope.ShopAsync()).LocalDay(scope.Now));
    }
}

/// <summary>The register as readings use it.</summary>
internal static class Instruments
{
    public static InstrumentView ViewOf(Instrument instrument, DateOnly today) =>
        new(
            instrument.Id,
            instrument.Version,
            instrument.Name,
            instrument.Kind,
            instrument.Unit,
            instrument.Uncertainty,
            instrument.CalibrationDueOn,
            instrument.IsOverdueOn(today),
            instrument.CalibrationDueOn?.DayNumber - today.DayNumber,
            instrument.Note,
            instrument.IsRetired
        );

    /// <summary>Those in use, by name.</summary>
    public static async Task<IReadOnlyList<InstrumentView>> ToChooseAsync(
        ShopDbContext db,
        Shop shop,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var today = shop.LocalDay(now);
        var inUse = await db.Set<Instrument>().Where(i => !i.IsRetired).OrderBy(i => i.Name).ToListAsync(ct);
        return inUse.ConvertAll(i => ViewOf(i, today));
    }

    /// <summary>Kinds of which the register holds one in use.</summary>
    public static async Task<IReadOnlySet<InstrumentKind>> KindsInUseAsync(ShopDbContext db, CancellationToken ct) =>
        (
            await db.Set<Instrument>().Where(i => !i.IsRetired).Select(i => i.Kind).Distinct().ToListAsync(ct)
        ).ToHashSet();

    /// <summary>The instrument a reading names, on the local day of the reading; null where it names none.</summary>
    public static async Task<Outcome<InstrumentInUse?>> InUseAsync(CommandScope scope, Guid? id)
    {
        if (id is not { } named)
        {
            return Outcome<InstrumentInUse?>.Success(null);
        }

        var instrument = await scope
            .Db.Set<Instrument>()
            .SingleOrDefaultAsync(i => i.Id == InstrumentId.From(named), scope.Cancellation);
        return instrument is null
            ? Failure.Field("instrumentId", "There is no such instrument in the register. Choose one from the list.")
            : new InstrumentInUse(instrument, (await scope.ShopAsync()).LocalDay(scope.OccurredAt));
    }
}
