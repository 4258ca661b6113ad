using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Tests.Planning;

/// <summary>Shops and work made up from a seed: part-time people, shared rooms, cures, parts to come, ways, one bender.</summary>
internal static class RandomShop
{
    public static readonly DateTimeOffset Monday = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly string[] Skills = ["fitter", "welder", "painter"];

    /// <summary>An axis of so many working days with so many quarter hours each, weekends left out.</summary>
    public static WorkAxis Axis(int days, int slots) =>
        WorkAxis.Of(
            Monday,
            Enumerable
                .Range(0, days * 7 / 5 + 2)
                .Select(d => Monday.AddDays(d))
                .Where(d => d.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday))
                .Take(days)
                .Select(d =>
                    (
                        DateOnly.FromDateTime(d.Date),
                        (IReadOnlyList<OpenSpan>)[new OpenSpan(d, d.AddMinutes(slots * WorkAxis.SlotMinutes))]
                    )
                )
        );

    public static PlanProblem Make(int seed, int jobs, int operations, int days = 60, int slots = 32)
    {
        var random = new Random(seed);
        var axis = Axis(days, slots);
        var people = People(random, axis);
        PlanPlace[] places =
        [
            new("bay-1", "bay 1", "bay", "hall"),
            new("bay-2", "bay 2", "bay", random.Next(2) == 0 ? "hall" : "bay-2"),
            new("bench", "the bench", "bench", "hall"),
            new("paint", "the paint place", "paint", random.Next(2) == 0 ? "hall" : "paint"),
            new("office", "the office", "office", "office"),
        ];
        var planJobs = new List<PlanJob>();
        var tasks = new List<PlanTask>();
        for (var j = 0; j < jobs; j++)
        {
            var first = tasks.Count;
            planJobs.Add(
                new PlanJob(
                    JobId.From(new Guid(j + 1, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0)),
                    $"J-{j}",
                    "car",
                    random.Next(4) == 0 ? null : random.Next(axis.Slots / 2),
                    random.Next(1, 4),
                    null,
                    random.Next(5) > 0,
                    ["w"]
                )
            );
            for (var o = 0; o < operations; o++)
            {
                tasks.Add(Task(random, tasks, people, first, j, o, operations));
            }
        }

        if (seed % 3 == 1)
        {
            Stands(planJobs, tasks, people);
        }

        return new PlanProblem(axis, people, places, planJobs, tasks);
    }

    /// <summary>The first car stands in the first bay already, and somebody is at its first operation there.</summary>
    private static void Stands(List<PlanJob> jobs, List<PlanTask> tasks, PlanPerson[] people)
    {
        jobs[0] = jobs[0] with { Bay = 0, HoldsBay = true };
        for (var t = 0; t < tasks.Count && tasks[t].Job == 0; t++)
        {
            if (tasks[t].Places is [0, 1])
            {
                tasks[t] = tasks[t] with { Places = [0] };
            }
        }

        if (tasks[0].Places is [0] && people[tasks[0].People[0]].IsThere(0, tasks[0].Slots))
        {
            tasks[0] = tasks[0] with { Begun = true, Earliest = 0, People = [tasks[0].People[0]], IsPaint = false };
        }
    }

    private static PlanPerson[] People(Random random, WorkAxis axis)
    {
        var all = new List<PlanPerson>();
        for (var p = 0; p < 3; p++)
        {
            var away = new List<(int, int)>();
            if (p == 2)
            {
                away.AddRange(
                    axis.Days.Where(_ => random.Next(3) == 0).Select(d => (d.FirstSlot, d.FirstSlot + (d.Slots / 2)))
                );
            }
            else if (random.Next(2) == 0 && axis.Days.Count > 8)
            {
                away.Add((axis.Days[3].FirstSlot, axis.Days[6].EndSlot));
            }

            all.Add(
                new PlanPerson(
                    PersonId.From(new Guid(100 + p, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0)),
                    $"Person {p}",
                    p == 0 ? [.. Skills, "inspector"]
                        : p == 1 ? ["fitter", "welder", "inspector"]
                        : ["painter", "fitter"],
                    away
                )
            );
        }

        return [.. all];
    }

    private static PlanTask Task(
        Random random,
        List<PlanTask> tasks,
        PlanPerson[] people,
        int first,
        int job,
        int o,
        int operations
    )
    {
        var at = tasks.Count;
        var isInspection = o % 5 == 4;
        var isPaint = !isInspection && random.Next(6) == 0;
        var skill =
            isInspection ? "inspector"
            : isPaint ? "painter"
            : Skills[random.Next(2)];
        var kind = isPaint
            ? random.Next(2) == 0
                ? "paint"
                : "bay"
            : random.Next(5) == 0
                ? "bench"
                : o == operations - 1
                    ? "office"
                    : "bay";
        var before = new List<PlanBefore>();
        if (o > 0)
        {
            var previous = at - 1 - (random.Next(4) == 0 && o > 1 ? 1 : 0);
            before.Add(new PlanBefore(previous, tasks[previous].IsPaint ? 720 : 0));
        }

        // The way "w" is closed by the operation in the middle; those before it need it.
        var closes = o == operations / 2;
        if (closes)
        {
            before.AddRange(
                Enumerable
                    .Range(first, at - first)
                    .Where(t => before.TrueForAll(b => b.Task != t))
                    .Select(t => new PlanBefore(t, 0, ForWay: true))
            );
        }

        return new PlanTask(
            job,
            $"{(o + 1) * 10}",
            "Work",
            Phase.FinalWeld,
            random.Next(1, isPaint ? 6 : 12),
            [.. Enumerable.Range(0, people.Length).Where(p => people[p].Skills.Contains(skill))],
            kind switch
            {
                "bay" => [0, 1],
                "bench" => [2],
                "paint" => [3],
                _ => [4],
            },
            before,
            random.Next(8) == 0 ? random.Next(60) : 0
        )
        {
            IsHot = skill == "welder",
            IsPaint = isPaint,
            IsInspection = isInspection,
            InOneDay = random.Next(5) == 0,
            Equipment = random.Next(8) == 0 ? ["bender"] : [],
            NeedsOpen = o < operations / 2 ? ["w"] : [],
            Closes = closes ? ["w"] : [],
        };
    }
}
