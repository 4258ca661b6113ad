using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Planning;

/// <summary>When the shop works and which places share a room.</summary>
/// <param name="Hours">Seven texts from Monday.</param>
/// <param name="Rooms">Every place with its room.</param>
/// <param name="CarsAtOnce">Cars that fit in the shop and its yard; 0: nobody has said.</param>
public sealed record ShopHoursView(
    long Version,
    IReadOnlyList<string> Hours,
    IReadOnlyList<DaysOff> Closed,
    IReadOnlyList<PlaceRoom> Rooms,
    int HandsOnACar,
    int CarsAtOnce
);

/// <summary>A place, its room (the place's own code where it shares none), and how many things it holds at once.</summary>
public sealed record PlaceRoom(string Place, string Title, string Room, int Stands);

/// <summary>What a person can do and when they are there.</summary>
/// <param name="Skills">Those that count.</param>
/// <param name="HasOwnSkills">They were set; else they follow from the person's roles.</param>
/// <param name="Hours">Seven texts from Monday: those that count.</param>
public sealed record PersonHoursView(
    PersonId Person,
    long Version,
    string Name,
    IReadOnlyList<string> Skills,
    bool HasOwnSkills,
    IReadOnlyList<string> Hours,
    bool HasOwnHours,
    IReadOnlyList<DaysOff> Away,
    IReadOnlyList<string> KnownSkills
);

/// <summary>The shop's hours, closed days and rooms.</summary>
public sealed class KeepShopHours(QueryRunner queries, CommandRunner runner) : IUseCase
{
    public Task<Outcome<ShopHoursView>> ReadAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<ShopHoursView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                return View(shop, await PlanLoading.HoursAsync(db, shop, ct));
            },
            ct
        );

    public Task<Outcome<ShopHoursView>> ChangeAsync(
        ShopHours.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<ShopHoursView>(
            Permission.RunShop,
            envelope,
            details,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                var hours = await scope.Db.Set<ShopHours>().SingleOrDefaultAsync(scope.Cancellation);
                if (hours is null)
                {
                    hours = ShopHours.Of(shop.Id);
                    scope.Db.Add(hours);
                }

                if (scope.Stale(hours) is { } stale)
                {
                    return stale;
                }

                var before = Told(hours);
                if (hours.Change(details, [.. ShopPlaces.Of(shop.Places).All.Select(p => p.Code)]).Failure is { } wrong)
                {
                    return wrong;
                }

                scope.Record(
                    new EventDraft("shop.hoursChanged", "shop", shop.Id.Value, Before: before, After: Told(hours))
                );
                await scope.SaveAsync();
                return View(shop, hours);
            },
            ct
        );

    private static object Told(ShopHours hours) =>
        new
        {
            hours = hours.Hours.Texts,
            closed = hours.Closed.Select(c => $"{c.From:yyyy-MM-dd} to {c.To:yyyy-MM-dd}"),
            rooms = hours.Rooms,
            stands = hours.Stands,
            handsOnACar = hours.HandsOnACar,
            carsAtOnce = hours.CarsAtOnce,
        };

    private static ShopHoursView View(Shop shop, ShopHours hours) =>
        new(
            hours.Version,
            hours.Hours.Texts,
            hours.Closed,
            [
                .. ShopPlaces
                    .Of(shop.Places)
                    .All.Select(p => new PlaceRoom(p.Code, p.Title, hours.RoomOf(p.Code), hours.HoldsAtOnce(p.Code))),
            ],
            hours.HandsOnACar,
            hours.CarsAtOnce
        );
}

/// <summary>Skills, hours and days off of the people who work. A note on a day off is the person's own affair and is not kept: only the days count.</summary>
public sealed class KeepPersonHours(QueryRunner queries, CommandRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<PersonHoursView>>> ReadAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PersonHoursView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var hours = await PlanLoading.HoursAsync(db, shop, ct);
                var known = await PlanLoading.SkillsAsync(db, now, ct);
                var hands = await PlanLoading.EverybodyAsync(db, now, ct);
                return hands.Select(h => View(h, hours, known)).ToList();
            },
            ct
        );

    public Task<Outcome<PersonHoursView>> ChangeAsync(
        PersonId person,
        PersonHours.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<PersonHoursView>(
            Permission.RunShop,
            envelope,
            new { person, details },
            async scope =>
            {
                if (!await scope.Db.Users.AnyAsync(u => u.Id == person.Value && u.IsActive, scope.Cancellation))
                {
                    return Failure.Missing("person");
                }

                var own = await scope
                    .Db.Set<PersonHours>()
                    .SingleOrDefaultAsync(h => h.Id == person, scope.Cancellation);
                if (own is null)
                {
                    own = PersonHours.Of(person);
                    scope.Db.Add(own);
                }

                if (scope.Stale(own) is { } stale)
                {
                    return stale;
                }

                var known = await PlanLoading.SkillsAsync(scope.Db, scope.Now, scope.Cancellation);
                var before = Told(own);
                if (own.Change(details, known).Failure is { } wrong)
                {
                    return wrong;
                }

                scope.Record(
                    new EventDraft("person.hoursChanged", "person", person.Value, Before: before, After: Told(own))
                );
                await scope.SaveAsync();
                var hours = await PlanLoading.HoursAsync(scope.Db, await scope.ShopAsync(), scope.Cancellation);
                var all = await PlanLoading.EverybodyAsync(scope.Db, scope.Now, scope.Cancellation);
                return View(all.Single(h => h.Id == person), hours, known);
            },
            ct
        );

    private static object Told(PersonHours own) =>
        new
        {
            skills = own.Skills,
            hours = own.Hours?.Texts,
            away = own.Away.Select(a => $"{a.From:yyyy-MM-dd} to {a.To:yyyy-MM-dd}"),
        };

    private static PersonHoursView View(PlanHand hand, ShopHours shop, IReadOnlyList<string> known) =>
        new(
            hand.Id,
            hand.Own?.Version ?? 0,
            hand.Name,
            hand.Skills,
            hand.Own?.Skills is not null,
            (hand.Own?.Hours ?? shop.Hours).Texts,
            hand.Own?.Hours is not null,
            hand.Own?.Away ?? [],
            known
        );
}
