using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>Reads the plan that stands, held against the shop as it is now.</summary>
public sealed class ReadPlan(QueryRunner queries, TimeProvider clock) : IUseCase
{
    /// <summary>Weeks of load that are shown.</summary>
    public const int MostWeeks = 12;

    public Task<Outcome<PlanView>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<PlanView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var material = await PlanLoading.ReadAsync(db, now, ct);
                var running = await db.Set<PlanRun>()
                    .Where(r => r.State == PlanRunState.Running)
                    .OrderByDescending(r => r.AskedAt)
                    .FirstOrDefaultAsync(ct);
                return View(material, running is null || !running.IsAlive(now) ? null : PlanRunView.Of(running, now));
            },
            ct
        );

    public Task<Outcome<PlanRunView>> RunOfAsync(PlanRunId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<PlanRunView>(
            Permission.SeeOffice,
            actor,
            async db =>
                await db.Set<PlanRun>().SingleOrDefaultAsync(r => r.Id == id, ct) is { } run
                    ? PlanRunView.Of(run, clock.GetUtcNow())
                    : Failure.Missing("plan"),
            ct
        );

    private static PlanView View(PlanMaterial material, PlanRunView? running)
    {
        var question = material.Question();
        var standing = StandingPlan.Of(material, question);
        var problem = question.Problem;
        var cars = material
            .Orders.Select(o => Car(o, standing, problem))
            .OrderBy(c => c.PromisedOn ?? DateOnly.MaxValue)
            .ThenBy(c => c.Number, StringComparer.Ordinal)
            .ToList();
        var made = material.Last is { } last ? PlanRunView.Of(last, material.Now) : null;
        return new PlanView(
            running,
            made,
            made?.Quality ?? "Nobody has asked for a plan yet: this is what the plain rule gives at this moment.",
            standing.MovedOn,
            Days(material, standing, problem),
            cars,
            [.. cars.Where(c => c.IsLate || c.IsTight).OrderByDescending(c => c.DaysLate)],
            Weeks(problem, standing.Entries),
            standing.LeftOut,
            question.Granted,
            material.Last?.GivenUp ?? [],
            [.. material.Hands.Select(h => new PlanPersonView(h.Id, h.Name, h.Skills))]
        );
    }

    private static PlanCarView Car(PlanOrder order, StandingPlan standing, PlanProblem problem)
    {
        var entries = standing.Entries.Where(e => problem.Jobs[problem.Tasks[e.Task].Job].Id == order.Job.Id).ToList();
        DateOnly? ready = entries.Count == 0 ? null : problem.Axis.DayOf(entries.Max(e => e.End) - 1).Day;
        return new PlanCarView(
            order.Job.Id,
            order.Job.Number,
            order.Title,
            order.Job.PromisedOn,
            ready,
            ready is { } day && order.Job.PromisedOn is { } promised ? DaysBetween(problem.Axis, promised, day) : null,
            order.Wishes.Weight,
            PlanRibbon.Of(problem, entries),
            standing.LeftOut.FirstOrDefault(l => l.Job == order.Job.Id)?.Why
        );
    }

    /// <summary>Open days by which it is late; negative for open days to spare. A promise that passed before today counts by the calendar up to today.</summary>
    private static int DaysBetween(WorkAxis axis, DateOnly promised, DateOnly ready)
    {
        if (ready <= promised)
        {
            return -axis.Days.Count(d => d.Day > ready && d.Day <= promised);
        }

        var passed = Math.Max(0, axis.Days[0].Day.DayNumber - promised.DayNumber - 1);
        return Math.Max(1, passed + axis.Days.Count(d => d.Day > promised && d.Day <= ready));
    }

    private static IReadOnlyList<PlanDayView> Days(PlanMaterial material, StandingPlan standing, PlanProblem problem)
    {
        var orders = material.Orders.ToDictionary(o => o.Job.Id);
        var places = ShopPlaces.Of(material.Shop.Places);
        var used = standing.Entries.Count == 0 ? 0 : problem.Axis.DayIndexOf(standing.Entries.Max(e => e.End) - 1) + 1;
        return
        [
            .. problem
                .Axis.Days.Take(used)
                .Select(d => new PlanDayView(
                    d.Day,
                    [
                        .. standing
                            .Entries.Where(e => e.Start < d.EndSlot && e.End > d.FirstSlot)
                            .OrderBy(e => Math.Max(e.Start, d.FirstSlot))
                            .ThenBy(e => e.Person)
                            .Select(e => Line(e, d)),
                    ]
                )),
        ];

        string Place(PlanPlace place, PlanProblem of) =>
            places.Title(place.Code) + (of.Places.Count(p => p.Code == place.Code) > 1 ? $", stand {place.Stand}" : "");

        PlanLineView Line(PlanEntry entry, WorkDay day)
        {
            var task = problem.Tasks[entry.Task];
            var order = orders[problem.Jobs[task.Job].Id];
            var person = problem.People[entry.Person];
            return new PlanLineView(
                order.Job.Id,
                order.Job.Number,
                order.Title,
                task.Code,
                task.Title,
                task.Phase,
                order.Job.Operation(task.Code)!.Skill,
                problem.Axis.StartOf(Math.Max(entry.Start, day.FirstSlot)),
                problem.Axis.EndOf(Math.Min(entry.End, day.EndSlot)),
                entry.End > day.EndSlot,
                entry.Start < day.FirstSlot,
                person.Id,
                person.Name,
                Place(problem.Places[entry.Place], problem),
                order.Wishes.For(task.Code),
                problem.Jobs[task.Job].DueSlot is { } due && entry.End > due
            );
        }
    }

    private static IReadOnlyList<PlanWeekView> Weeks(PlanProblem problem, IReadOnlyList<PlanEntry> entries)
    {
        var axis = problem.Axis;
        return
        [
            .. axis
                .Days.GroupBy(d => GetWeekReport.MondayOf(d.Day))
                .Take(MostWeeks)
                .Select(w => new PlanWeekView(
                    w.Key,
                    w.Sum(d =>
                        entries.Sum(e => Math.Max(0, Math.Min(e.End, d.EndSlot) - Math.Max(e.Start, d.FirstSlot)))
                    ) / 4m,
                    w.Sum(d =>
                        Enumerable.Range(d.FirstSlot, d.Slots).Sum(s => problem.People.Count(p => p.IsThere(s, s + 1)))
                    ) / 4m
                )),
        ];
    }
}
