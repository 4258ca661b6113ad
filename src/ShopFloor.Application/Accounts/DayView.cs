using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Accounts;

/// <summary>One way to pay of a day.</summary>
/// <param name="CountedMinor">Null while the day is open.</param>
public sealed record DayMethodView(
    PaymentMethod Method,
    long ExpectedMinor,
    long? CountedMinor,
    long? DifferenceMinor,
    string? Note
);

/// <summary>Money that moved on a day.</summary>
/// <param name="AmountMinor">What came in; below zero what went out.</param>
public sealed record DayEntryView(
    JobId JobId,
    string JobNumber,
    EntryKind Kind,
    PaymentMethod Method,
    long AmountMinor,
    string? Receipt,
    DateTimeOffset RecordedAt
);

/// <summary>A local day's money.</summary>
/// <param name="ClosedAt">Null while it is open.</param>
/// <param name="DaysToClose">Earlier and other days of the last two months on which money moved and that are still open, oldest first.</param>
public sealed record DayView(
    DateOnly Day,
    string Currency,
    DateTimeOffset? ClosedAt,
    string? ClosedBy,
    IReadOnlyList<DayMethodView> Methods,
    IReadOnlyList<DayEntryView> Entries,
    IReadOnlyList<DateOnly> DaysToClose
)
{
    private const int LookBackDays = 62;

    internal static async Task<DayView> OfAsync(ShopDbContext db, DateOnly day, CancellationToken ct)
    {
        var entries = await db.Set<LedgerEntry>().AsNoTracking().Where(e => e.On == day).ToListAsync(ct);
        var moved = entries.Where(e => e.Method is not null).OrderBy(e => e.RecordedAt).ToList();
        var jobs = moved.Select(e => e.JobId).Distinct().ToList();
        var numbers = await db.Set<Job>()
            .Where(j => jobs.Contains(j.Id))
            .Select(j => new { j.Id, j.Number })
            .ToDictionaryAsync(j => j.Id, j => j.Number, ct);
        var close = await db.Set<DayClose>().AsNoTracking().SingleOrDefaultAsync(d => d.Day == day, ct);
        var by = close?.ClosedBy?.Value;
        return new DayView(
            day,
            (await db.Shops.AsNoTracking().SingleAsync(ct)).Currency.Code,
            close?.ClosedAt,
            await db.Users.Where(u => u.Id == by).Select(u => u.DisplayName).SingleOrDefaultAsync(ct),
            [
                .. DayClose
                    .Expected(entries)
                    .Select(e => Method(e.Key, e.Value, close?.Methods.SingleOrDefault(m => m.Method == e.Key))),
            ],
            [
                .. moved.Select(e => new DayEntryView(
                    e.JobId,
                    numbers.GetValueOrDefault(e.JobId, ""),
                    e.Kind,
                    e.Method!.Value,
                    -e.CustomerMinor,
                    e.Receipt,
                    e.RecordedAt
                )),
            ],
            await OpenDaysAsync(db, day, ct)
        );
    }

    private static DayMethodView Method(PaymentMethod method, long expected, CountedMethod? counted) =>
        new(method, expected, counted?.CountedMinor, counted?.DifferenceMinor, counted?.Note);

    private static async Task<IReadOnlyList<DateOnly>> OpenDaysAsync(
        ShopDbContext db,
        DateOnly shown,
        CancellationToken ct
    )
    {
        var from = shown.AddDays(-LookBackDays);
        var days = await db.Set<LedgerEntry>()
            .Where(e => e.On >= from && e.On != shown && e.Method != null)
            .Select(e => e.On)
            .Distinct()
            .ToListAsync(ct);
        var closed = await db.Set<DayClose>().Where(d => d.Day >= from).Select(d => d.Day).ToListAsync(ct);
        return [.. days.Except(closed).Order()];
    }
}

/// <summary>A day's money by way to pay, with what was counted where it is closed.</summary>
public sealed class GetDay(QueryRunner runner, TimeProvider clock) : IUseCase
{
    /// <param name="day">Null for today.</param>
    public Task<Outcome<DayView>> RunAsync(DateOnly? day, Actor actor, CancellationToken ct) =>
        runner.RunAsync<DayView>(
            Permission.TakeMoney,
            actor,
            async db =>
            {
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                return day > today || day < today.AddYears(-20)
                    ? Failure.Field("day", "Give a day that has come, of the last twenty years.")
                    : await DayView.OfAsync(db, day ?? today, ct);
            },
            ct
        );
}
