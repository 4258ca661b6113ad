using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Application.Diary;

/// <summary>Reads the diary: what is late, whom to call, and two weeks of days with how full they are. It needs no plan.</summary>
public sealed class ReadDiary(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>Days of one page.</summary>
    public const int UsualDays = 14;

    public const int MostDays = 62;

    /// <param name="from">First day; null: today.</param>
    /// <param name="days">1 to 62; null: 14.</param>
    public Task<Outcome<DiaryView>> RunAsync(DateOnly? from, int? days, Actor actor, CancellationToken ct) =>
        queries.RunAsync<DiaryView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var today = shop.LocalDay(now);
                var errors = new FieldErrors();
                errors.AddIf(days is < 1 or > MostDays, "days", $"A page of the diary has 1 to {MostDays} days.");
                var first = from ?? today;
                errors.AddIf(
                    Math.Abs(first.DayNumber - today.DayNumber) > Appointment.MostDays,
                    "from",
                    "Choose a day within five years."
                );
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var material = await DiaryLoading.ReadAsync(db, shop, now, actor.May(Permission.SeeMoney), ct);
                var lines = material.Lines(today);
                var capacity = await CapacityAsync(db, shop, material, first, days ?? UsualDays, now, ct);
                return new DiaryView(
                    today,
                    first,
                    [.. lines.Where(l => l.DaysOver > 0 && l.Standing != DiaryStanding.Done).OrderBy(l => l.Day)],
                    material.Calls(today),
                    [.. capacity.Select(c => new DiaryDay(c, OnDay(lines, c.Day)))],
                    material.Enquiries,
                    [.. material.Jobs.Select(j => new DiaryJobName(j.Facts.Job, j.Number, j.Car, j.Customer))],
                    material.IsCut
                );
            },
            ct
        );

    private static IReadOnlyList<DiaryLine> OnDay(IEnumerable<DiaryLine> lines, DateOnly day) =>
        [
            .. lines
                .Where(l => l.Day == day)
                .OrderBy(l => l.Time is null)
                .ThenBy(l => l.Time, StringComparer.Ordinal)
                .ThenBy(l => l.Matter)
                .ThenBy(l => l.Number, StringComparer.Ordinal),
        ];

    private static async Task<IReadOnlyList<DayCapacity>> CapacityAsync(
        ShopDbContext db,
        Shop shop,
        DiaryMaterial material,
        DateOnly first,
        int days,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var hours = await PlanLoading.HoursAsync(db, shop, ct);
        var hands = (await PlanLoading.EverybodyAsync(db, now, ct)).Where(h => h.Skills.Count > 0).ToList();
        return ShopStays.Count(
            [.. material.Jobs.Select(j => j.Facts.Stay).OfType<ShopStay>()],
            hours.CarsAtOnce == 0 ? null : hours.CarsAtOnce,
            day => hands.Select(h => hours.MinutesOf(h.Own, day)),
            first,
            days,
            shop.LocalDay(now)
        );
    }
}
