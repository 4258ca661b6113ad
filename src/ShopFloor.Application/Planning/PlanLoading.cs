using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>Everything that a plan of the coming weeks is made from, as it is now.</summary>
/// <param name="Orders">Open jobs with something left to do, those promised first.</param>
/// <param name="Last">The newest run that has a plan; null before the first.</param>
internal sealed record PlanMaterial(
    Shop Shop,
    ShopHours Hours,
    IReadOnlyList<PlanHand> Hands,
    IReadOnlyList<PlanOrder> Orders,
    PlanRun? Last,
    DateTimeOffset Now
)
{
    public PlanQuestion Question() => PlanBuilder.Build(Shop, Hours, Hands, Orders, Now);
}

internal static class PlanLoading
{
    /// <summary>Most jobs that are planned together; those promised first.</summary>
    public const int MostJobs = 200;

    public static async Task<PlanMaterial> ReadAsync(ShopDbContext db, DateTimeOffset now, CancellationToken ct)
    {
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var hours = await HoursAsync(db, shop, ct);
        var last = await db.Set<PlanRun>()
            .AsNoTracking()
            .Where(r => r.Operations != null)
            .OrderByDescending(r => r.AskedAt)
            .FirstOrDefaultAsync(ct);
        return new PlanMaterial(
            shop,
            hours,
            await HandsAsync(db, now, ct),
            await OrdersAsync(db, shop, last, now, ct),
            last,
            now
        );
    }

    public static async Task<ShopHours> HoursAsync(ShopDbContext db, Shop shop, CancellationToken ct) =>
        await db.Set<ShopHours>().SingleOrDefaultAsync(ct) ?? ShopHours.Of(shop.Id);

    /// <summary>Skill codes of the price book in force and of the routes: what people can be given.</summary>
    public static async Task<IReadOnlyList<string>> SkillsAsync(
        ShopDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var book = await PriceBooks.InForceAsync(db, shop.LocalDay(now), ct);
        return
        [
            .. (book?.Book.Skills ?? [])
                .Select(s => s.Code)
                .Append(Operation.InspectorSkill)
                .Distinct(StringComparer.Ordinal),
        ];
    }

    /// <summary>Everybody who has a skill.</summary>
    private static async Task<IReadOnlyList<PlanHand>> HandsAsync(
        ShopDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    ) => [.. (await EverybodyAsync(db, now, ct)).Where(h => h.Skills.Count > 0)];

    /// <summary>Everybody of the shop, with the skills that count.</summary>
    public static async Task<IReadOnlyList<PlanHand>> EverybodyAsync(
        ShopDbContext db,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var known = await SkillsAsync(db, now, ct);
        var users = await db
            .Users.AsNoTracking()
            .Where(u => u.IsActive)
            .OrderBy(u => u.NormalizedUserName)
            .Select(u => new { u.Id, u.DisplayName })
            .ToListAsync(ct);
        var roles = await db
            .UserRoles.Join(db.Roles, r => r.RoleId, r => r.Id, (r, role) => new { r.UserId, role.Name })
            .ToListAsync(ct);
        var own = await db.Set<PersonHours>().AsNoTracking().ToDictionaryAsync(h => h.Id, ct);
        return
        [
            .. users.Select(u =>
            {
                var id = new PersonId(u.Id);
                var held = roles.Where(r => r.UserId == u.Id).Select(r => Enum.Parse<Role>(r.Name!));
                var mine = own.GetValueOrDefault(id);
                return new PlanHand(id, u.DisplayName, mine?.Skills ?? PersonHours.UsualSkills(held, known), mine);
            }),
        ];
    }

    private static async Task<IReadOnlyList<PlanOrder>> OrdersAsync(
        ShopDbContext db,
        Shop shop,
        PlanRun? last,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var jobs = await db.JobsWhole()
            .AsNoTracking()
            .Where(j => j.State == JobState.Open)
            .OrderBy(j => j.PromisedOn == null)
            .ThenBy(j => j.PromisedOn)
            .ThenBy(j => j.Id)
            .Take(MostJobs)
            .ToListAsync(ct);
        jobs.RemoveAll(j => j.AllOver);
        var ids = jobs.Select(j => j.Id).ToList();
        var quoteIds = jobs.Select(j => j.QuoteId).ToList();
        var facts = await JobFacts.OfAsync(db, jobs, shop, now, ct);
        var cars = await JobSubject.CarsAsync(db, jobs, ct);
        var quotes = await db.Set<Quote>()
            .AsNoTracking()
            .Where(q => quoteIds.Contains(q.Id))
            .ToDictionaryAsync(q => q.Id, ct);
        var changes = (
            await db.Set<ChangeOrder>()
                .AsNoTracking()
                .Where(c => ids.Contains(c.JobId) && c.State == ChangeState.Approved)
                .ToListAsync(ct)
        ).ToLookup(c => c.JobId);
        var here = (
            await db.Set<DropOff>().Where(d => ids.Contains(d.JobId)).Select(d => d.JobId).ToListAsync(ct)
        ).ToHashSet();
        var expected = await db.Set<Appointment>()
            .AsNoTracking()
            .Where(a => a.Kind == AppointmentKind.DropOff && ids.Contains(a.JobId))
            .ToDictionaryAsync(a => a.JobId, ct);
        var wishes = await db.Set<PlanWishes>()
            .AsNoTracking()
            .Where(w => ids.Contains(w.Id))
            .ToDictionaryAsync(w => w.Id, ct);
        var before = (last?.Operations ?? []).ToLookup(o => o.Job);
        return
        [
            .. jobs.Select(job => new PlanOrder(
                job,
                JobSubject.Title(job, cars.GetValueOrDefault(job.Id)),
                ApprovedChanges.Hours(quotes[job.QuoteId], changes[job.Id]),
                facts[job.Id],
                wishes.GetValueOrDefault(job.Id) ?? PlanWishes.Of(job.Id),
                !job.HasCarHere || here.Contains(job.Id) || job.Operations.Any(o => o.BegunAt is not null),
                expected.TryGetValue(job.Id, out var day)
                    ? shop.InstantOf(day.Day, day.Time ?? TimeOnly.MinValue)
                    : null,
                before[job.Id]
                    .GroupBy(o => o.Operation)
                    .ToDictionary(g => g.Key, g => g.First().Start, StringComparer.Ordinal)
            )),
        ];
    }
}
