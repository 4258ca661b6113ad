using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>Somebody who works, with what they can do and when they are there.</summary>
/// <param name="Skills">Skill codes, as routes name them.</param>
/// <param name="Away">Quarter hours in which the shop is open and the person is not there: first and end, in rising order, none overlapping.</param>
public sealed record PlanPerson(
    PersonId Id,
    string Name,
    IReadOnlyList<string> Skills,
    IReadOnlyList<(int From, int To)> Away
)
{
    /// <summary>There from the first to the last of some quarter hours.</summary>
    public bool IsThere(int from, int to) => Away.All(a => to <= a.From || from >= a.To);
}

/// <summary>A place in which one thing is worked on at a time, and the room whose air it shares with others.</summary>
/// <param name="Kind">As routes name it: bay, bench, paint, office.</param>
/// <param name="Room">Places with the same room share sparks and fumes.</param>
/// <param name="Stand">From 1: which stand of a place that holds several things at once.</param>
public sealed record PlanPlace(string Code, string Title, string Kind, string Room, int Stand = 1)
{
    /// <summary>Where any number of people can work at once: the office.</summary>
    public bool IsUnlimited => Kind == "office";
}

/// <summary>One job in a plan.</summary>
/// <param name="DueSlot">First quarter hour after the promised day; null where no day was promised.</param>
/// <param name="Weight">How much a late quarter hour of it counts, 1 or more.</param>
/// <param name="Bay">Place of the shop in <see cref="PlanProblem.Places"/> in which its car stands already; null where it stands in none.</param>
/// <param name="HoldsBay">Its car stays in its bay from the first operation there to the last: with its trim out nobody drives it away.</param>
/// <param name="OpenWays">Access ways that are open now.</param>
public sealed record PlanJob(
    JobId Id,
    string Number,
    string Title,
    int? DueSlot,
    int Weight,
    int? Bay,
    bool HoldsBay,
    IReadOnlyList<string> OpenWays
);

/// <summary>Something before an operation, with the rest that it needs by the clock.</summary>
/// <param name="Task">Place of the earlier operation in <see cref="PlanProblem.Tasks"/>.</param>
/// <param name="RestMinutes">Cure: minutes by the clock, night and day.</param>
/// <param name="ForWay">It comes before only so that an access way is open when it is needed.</param>
public sealed record PlanBefore(int Task, int RestMinutes, bool ForWay = false);

/// <summary>One operation that is still to be done.</summary>
/// <param name="Job">Place of its job in <see cref="PlanProblem.Jobs"/>.</param>
/// <param name="Slots">Quarter hours of work left, 1 or more.</param>
/// <param name="People">Who could do it, as places in <see cref="PlanProblem.People"/>.</param>
/// <param name="Places">Where it could be done, as places in <see cref="PlanProblem.Places"/>.</param>
/// <param name="Earliest">First quarter hour at which it may begin: the arrival of a part, of stock, of the car, or a day the shop has named.</param>
public sealed record PlanTask(
    int Job,
    string Code,
    string Title,
    Phase Phase,
    int Slots,
    IReadOnlyList<int> People,
    IReadOnlyList<int> Places,
    IReadOnlyList<PlanBefore> Before,
    int Earliest
)
{
    /// <summary>What <see cref="Earliest"/> waits for, in words; null where it waits for nothing.</summary>
    public string? Awaits { get; init; }

    public bool IsHot { get; init; }
    public bool IsPaint { get; init; }
    public bool IsInspection { get; init; }

    /// <summary>It is not left overnight.</summary>
    public bool InOneDay { get; init; }

    /// <summary>It is in work: it goes on at once, with whoever is on it.</summary>
    public bool Begun { get; init; }

    /// <summary>The quarter hour at which the shop wants it to begin; null where the plan may choose.</summary>
    public int? Fixed { get; init; }

    /// <summary>Codes of what there is only one of, such as a bender.</summary>
    public IReadOnlyList<string> Equipment { get; init; } = [];
    public IReadOnlyList<string> NeedsOpen { get; init; } = [];
    public IReadOnlyList<string> Closes { get; init; } = [];
    public IReadOnlyList<string> Opens { get; init; } = [];

    /// <summary>Where the last plan had it begin; null where it had not.</summary>
    public int? Planned { get; init; }

    /// <summary>It may not be cut by a night: paint is laid in one go.</summary>
    public bool StaysInDay => InOneDay || IsPaint;
}

/// <summary>What is to be planned: the coming open time, people, places, jobs and their operations.</summary>
/// <remarks>
/// The rules every plan keeps (checked by <see cref="PlanCheck"/>), common practice, no source:
/// an operation has one person who can do it and is there from its beginning to its end, and one place; a night, a break and a closed day pause it,
/// unless it is done within a day; nobody does two things at once; a place other than the office holds one thing at a time, and a car keeps its bay
/// from its first operation there to its last; at most <see cref="MostHandsOnACar"/> people work on one job at once; what comes before is over, and has
/// rested; access ways are open when they are needed; an inspector looks at no work of their own, unless the shop lets them; and in a room in which paint or solvent is
/// used nothing else is done from then to the end of that day, the last spark lies at least the fire watch before, and paint begins no sooner than the fire
/// watch after opening where there is hot work in the room at all.
/// </remarks>
public sealed record PlanProblem(
    WorkAxis Axis,
    IReadOnlyList<PlanPerson> People,
    IReadOnlyList<PlanPlace> Places,
    IReadOnlyList<PlanJob> Jobs,
    IReadOnlyList<PlanTask> Tasks
)
{
    public const int UsualHandsOnACar = 2;

    /// <summary>Quarter hours of fire watch after the last spark.</summary>
    public int FireWatchSlots { get; init; } = 4;

    public int MostHandsOnACar { get; init; } = UsualHandsOnACar;

    /// <summary>The shop lets people inspect their own work.</summary>
    public bool SelfInspection { get; init; }

    /// <summary>Rooms in which an operation of this plan throws sparks, or could.</summary>
    public IReadOnlySet<string> HotRooms() =>
        Tasks
            .Where(t => t.IsHot)
            .SelectMany(t => t.Places)
            .Select(p => Places[p].Room)
            .ToHashSet(StringComparer.Ordinal);

    /// <summary>First quarter hour of a day at which paint may begin in a room.</summary>
    public int PaintFrom(WorkDay day, bool isHotRoom) => day.FirstSlot + (isHotRoom ? FireWatchSlots : 0);

    /// <summary>Where an operation may begin, leaving aside everything else than its length, its earliest quarter hour and the days.</summary>
    public bool MayBeginAt(PlanTask task, int start) =>
        start >= task.Earliest
        && start + task.Slots <= Axis.Slots
        && (!task.StaysInDay || Axis.DayIndexOf(start) == Axis.DayIndexOf(start + task.Slots - 1));

    /// <summary>Operations of a job, as places in <see cref="Tasks"/>.</summary>
    public ILookup<int, int> TasksByJob() => Enumerable.Range(0, Tasks.Count).ToLookup(t => Tasks[t].Job);
}
