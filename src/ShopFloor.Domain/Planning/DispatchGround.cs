namespace ShopFloor.Domain.Planning;

/// <summary>What the plain rule asks of a problem again and again, worked out once; it does not depend on how long operations take.</summary>
internal sealed class DispatchGround
{
    public DispatchGround(PlanProblem problem)
    {
        Problem = problem;
        var axis = problem.Axis;
        Away = [.. problem.People.Select(p => AwayOf(p, axis.Slots))];
        TasksOf = [.. Enumerable.Range(0, problem.Jobs.Count).Select(_ => Array.Empty<int>())];
        foreach (var job in problem.TasksByJob())
        {
            TasksOf[job.Key] = [.. job];
        }

        Order =
        [
            .. Enumerable
                .Range(0, problem.Jobs.Count)
                .OrderBy(j => problem.Jobs[j].Bay is null)
                .ThenBy(j => !TasksOf[j].Any(t => problem.Tasks[t].Begun))
                .ThenByDescending(j => problem.Jobs[j].Weight)
                .ThenBy(j => problem.Jobs[j].DueSlot ?? int.MaxValue)
                .ThenBy(j => problem.Jobs[j].Number, StringComparer.Ordinal),
        ];
        People = [.. problem.Tasks.Select(t => t.People.ToArray())];
        Places = [.. problem.Tasks.Select(t => t.Places.ToArray())];
        Before = [.. problem.Tasks.Select(t => t.Before.ToArray())];
        Worked =
        [
            .. Enumerable.Range(0, problem.Tasks.Count).Select(t => IsSeparate(t) ? WorkedBy(t) : Array.Empty<int>()),
        ];
        var after = Enumerable
            .Range(0, problem.Tasks.Count)
            .SelectMany(i => Worked[i].Select(t => (Work: t, Inspection: i)))
            .ToLookup(p => p.Work, p => p.Inspection);
        InspectionsAfter = [.. Enumerable.Range(0, problem.Tasks.Count).Select(t => after[t].ToArray())];
        Skills = [.. problem.People.Select(p => p.Skills.Count)];
        var codes = problem.Tasks.SelectMany(t => t.Equipment).Distinct(StringComparer.Ordinal).ToList();
        Equipment = [.. problem.Tasks.Select(t => t.Equipment.Select(e => codes.IndexOf(e)).ToArray())];
        EquipmentCount = codes.Count;
        Rooms = [.. problem.Places.Select(p => p.Room).Distinct(StringComparer.Ordinal)];
        RoomOf = [.. problem.Places.Select(p => Array.IndexOf(Rooms, p.Room))];
        HotRooms = problem.HotRooms();
        Slots = [.. problem.Tasks.Select(t => t.Slots)];
    }

    public PlanProblem Problem { get; }

    /// <summary>Quarter hours in which each person is not there.</summary>
    public SlotSet[] Away { get; }

    /// <summary>Operations of each job, in the problem's order.</summary>
    public int[][] TasksOf { get; }

    /// <summary>Jobs in the order in which they are put on the board.</summary>
    public int[] Order { get; }

    public int[][] People { get; }
    public int[][] Places { get; }
    public PlanBefore[][] Before { get; }

    /// <summary>The work that an inspection looks at, where people may not look at their own; empty for anything else.</summary>
    public int[][] Worked { get; }

    public int[][] InspectionsAfter { get; }

    /// <summary>How many skills each person has.</summary>
    public int[] Skills { get; }

    public int[][] Equipment { get; }
    public int EquipmentCount { get; }
    public string[] Rooms { get; }
    public int[] RoomOf { get; }
    public IReadOnlySet<string> HotRooms { get; }

    /// <summary>Quarter hours of each operation as planned.</summary>
    public int[] Slots { get; }

    private bool IsSeparate(int t) => Problem.Tasks[t].IsInspection && !Problem.SelfInspection;

    private int[] WorkedBy(int inspection) =>
        [
            .. Problem
                .Tasks[inspection]
                .Before.Where(b => !b.ForWay && !Problem.Tasks[b.Task].IsInspection)
                .Select(b => b.Task),
        ];

    private static SlotSet AwayOf(PlanPerson person, int slots)
    {
        var taken = new SlotSet(slots);
        foreach (var (from, to) in person.Away)
        {
            taken.Take(from, Math.Max(from, Math.Min(to, slots)));
        }

        return taken;
    }
}
