namespace ShopFloor.Domain.Planning;

/// <summary>What is taken so far while a plan is being filled. It can be emptied and filled again with other lengths of the same operations.</summary>
internal sealed class DispatchBoard
{
    private readonly DispatchGround ground;
    private readonly PlanProblem problem;
    private readonly SlotSet[] person;
    private readonly SlotSet[] place;
    private readonly SlotSet[] equipment;
    private readonly byte[]?[] hands;
    private readonly int[] load;
    private readonly RoomAir[] rooms;
    private readonly PlanEntry?[] placed;
    private readonly int[] wishedFor;
    private readonly bool[] begun;
    private readonly int[] candidates;
    private readonly List<PlanEntry> everTaken = [];
    private readonly Dictionary<int, List<PlanEntry>> pieces = [];
    private readonly int[] onePerson = new int[1];
    private readonly int[] onePlace = new int[1];
    private int[] slots;
    private int[]? longest;

    public DispatchBoard(PlanProblem problem)
        : this(new DispatchGround(problem)) { }

    public DispatchBoard(DispatchGround ground)
    {
        this.ground = ground;
        problem = ground.Problem;
        var count = problem.Axis.Slots;
        person = [.. ground.Away.Select(_ => new SlotSet(count))];
        place = [.. problem.Places.Select(_ => new SlotSet(count))];
        equipment = [.. Enumerable.Range(0, ground.EquipmentCount).Select(_ => new SlotSet(count))];
        hands = new byte[]?[problem.Jobs.Count];
        load = new int[problem.People.Count];
        rooms = [.. ground.Rooms.Select(r => new RoomAir(problem, ground.HotRooms.Contains(r)))];
        placed = new PlanEntry?[problem.Tasks.Count];
        wishedFor = new int[problem.Tasks.Count];
        begun = new bool[problem.Tasks.Count];
        candidates = new int[problem.People.Count];
        slots = ground.Slots;
        Empty(ground.Slots);
    }

    /// <summary>An operation whose wished beginning cannot be kept; the board is then useless until it is emptied.</summary>
    public int? Broken { get; private set; }

    public IReadOnlyList<PlanEntry> Entries => [.. placed.OfType<PlanEntry>()];

    /// <summary>The pieces of every operation on the board; one where it was not cut.</summary>
    public IReadOnlyList<PlanEntry> Pieces =>
        [
            .. Enumerable
                .Range(0, placed.Length)
                .Where(t => placed[t] is not null)
                .SelectMany(t => pieces.TryGetValue(t, out var list) ? list : [placed[t]!]),
        ];

    /// <summary>When an operation ends; null where it is not on the board.</summary>
    public int? EndOf(int task) => placed[task]?.End;

    /// <summary>Takes everything off the board.</summary>
    /// <param name="lengths">Quarter hours of each operation from now on.</param>
    /// <param name="most">Longest piece in which each operation is done: what takes longer goes on in further pieces by the same person; null where nothing is cut.</param>
    public void Empty(int[] lengths, int[]? most = null)
    {
        (slots, longest, Broken) = (lengths, most, null);
        for (var p = 0; p < person.Length; p++)
        {
            person[p].CopyFrom(ground.Away[p]);
        }

        foreach (var taken in place)
        {
            taken.Clear();
        }

        foreach (var taken in equipment)
        {
            taken.Clear();
        }

        foreach (var room in rooms)
        {
            room.Clear();
        }

        foreach (var entry in everTaken)
        {
            hands[problem.Tasks[entry.Task].Job].AsSpan(entry.Start, entry.End - entry.Start).Clear();
        }

        everTaken.Clear();
        pieces.Clear();
        Array.Clear(load);
        Array.Clear(placed);
        Array.Clear(wishedFor);
        for (var t = 0; t < begun.Length; t++)
        {
            begun[t] = problem.Tasks[t].Begun;
        }
    }

    /// <summary>Lets an operation that was in work begin like any other, on an empty board.</summary>
    public void LetWait(int task) => begun[task] = false;

    /// <summary>Takes operations as they are planned already, without asking the rules.</summary>
    public void Keep(IReadOnlyList<PlanEntry> standing)
    {
        foreach (var entry in standing)
        {
            Take(problem.Tasks[entry.Task], entry);
            placed[entry.Task] = entry;
        }

        foreach (var job in standing.Select(e => problem.Tasks[e.Task].Job).Distinct())
        {
            HoldBay(job);
        }
    }

    /// <summary>Puts every job on the board; those that cannot be are left out, each with why.</summary>
    /// <param name="only">Those jobs only, beside what is on the board; null for all.</param>
    public IReadOnlyDictionary<int, string> Fill(Func<int, bool>? only = null)
    {
        var leftOut = new Dictionary<int, string>();
        if (only is null)
        {
            Begun();
            if (Broken is null)
            {
                Wishes();
            }
        }

        foreach (var job in ground.Order)
        {
            if (Broken is not null)
            {
                break;
            }

            if (only?.Invoke(job) != false && Put(job) is { } why)
            {
                leftOut[job] = why;
                TakeOff(job);
            }
        }

        return leftOut;
    }

    private void Begun()
    {
        for (var t = 0; t < begun.Length && Broken is null; t++)
        {
            if (begun[t] && !PutBegun(t))
            {
                Broken = t;
            }
        }

        for (var t = 0; t < begun.Length && Broken is null && longest is not null; t++)
        {
            if (begun[t] && placed[t] is null && !PutRest(t, pieces[t][0]))
            {
                Broken = t;
            }
        }
    }

    /// <summary>Puts what is in work where it is: at the first quarter hour.</summary>
    private bool PutBegun(int t)
    {
        var first = longest is null ? slots[t] : FirstPiece(t, Math.Min(slots[t], longest[t]));
        if (first == 0 || PutAt(t, 0, first, ground.Places[t]) is not { } entry)
        {
            return false;
        }

        if (first < slots[t])
        {
            pieces[t] = [entry];
        }
        else
        {
            placed[t] = entry;
        }

        return true;
    }

    /// <summary>Whoever is at it stays at it until they leave, or the day does.</summary>
    private int FirstPiece(int t, int length)
    {
        if (problem.Axis.Slots == 0)
        {
            return 0;
        }

        length = problem.Tasks[t].StaysInDay ? Math.Min(length, problem.Axis.DayOf(0).EndSlot) : length;
        length = Math.Min(length, problem.Axis.Slots);
        for (var last = 0; last >= 0 && length > 0 && ground.People[t] is [var who]; )
        {
            last = ground.Away[who].LastTaken(0, length);
            length = last < 0 ? length : last;
        }

        return length;
    }

    /// <summary>Sets people aside for operations whose beginning the shop has named, before anything else takes them.</summary>
    private void Wishes()
    {
        for (var t = 0; t < problem.Tasks.Count; t++)
        {
            var task = problem.Tasks[t];
            if (task.Fixed is not { } start || begun[t])
            {
                continue;
            }

            var free = MayBeginAt(task, start, slots[t])
                ? Array.FindIndex(ground.People[t], p => person[p].IsFree(start, slots[t]))
                : -1;
            if (free < 0)
            {
                Broken = t;
                return;
            }

            var who = ground.People[t][free];
            wishedFor[t] = who + 1;
            person[who].Take(start, start + slots[t]);
        }
    }

    /// <summary>Puts one job on the board.</summary>
    /// <returns>Why it cannot be, or null.</returns>
    private string? Put(int job)
    {
        var bay = Bay(job);
        var left = ground.TasksOf[job].Where(t => placed[t] is null).ToList();
        while (left.Count > 0)
        {
            var next = left.FindIndex(IsNext);
            if (next < 0)
            {
                var stuck = problem.Tasks[left[0]];
                return $"{stuck.Code} {stuck.Title} and others wait for one another in a circle; look at the job's route.";
            }

            if (PutEarliest(left[next], bay) is { } why)
            {
                return why;
            }

            if (Broken is not null)
            {
                return null;
            }

            left.RemoveAt(next);
        }

        HoldBay(job);
        return null;
    }

    private bool IsNext(int t)
    {
        foreach (var before in ground.Before[t])
        {
            if (placed[before.Task] is null)
            {
                return false;
            }
        }

        return true;
    }

    private string? PutEarliest(int t, (int Place, int From)? bay)
    {
        var task = problem.Tasks[t];
        var places = ground.Places[t];
        var earliest = task.Earliest;
        if (bay is { } own && Array.IndexOf(places, own.Place) >= 0)
        {
            onePlace[0] = own.Place;
            places = onePlace;
            earliest = Math.Max(earliest, own.From);
        }

        foreach (var before in ground.Before[t])
        {
            earliest = Math.Max(earliest, problem.Axis.AfterRest(placed[before.Task]!.End, before.RestMinutes));
        }

        if (task.Fixed is { } wanted)
        {
            placed[t] = wanted < earliest ? null : PutAt(t, wanted, slots[t], places);
            Broken = placed[t] is null ? t : null;
            return null;
        }

        var length = longest is { } most && most[t] < slots[t] ? Piece(slots[t], most[t]) : slots[t];
        if (Find(t, earliest, length, places, Candidates(t)) is { } entry)
        {
            Take(task, entry);
            if (length == slots[t])
            {
                placed[t] = entry;
                return null;
            }

            pieces[t] = [entry];
            if (PutRest(t, entry))
            {
                return null;
            }
        }

        return IsInspectable(t)
            ? WhyNever(task)
            : $"{task.Code} {task.Title}: everybody who inspects did the work that is looked at. Give somebody else the inspector's skill, or let people inspect their own work, in the settings.";
    }

    /// <summary>Pieces of the same length, none over the longest.</summary>
    private static int Piece(int length, int most)
    {
        var count = (length + most - 1) / most;
        return (length + count - 1) / count;
    }

    /// <summary>Puts what is left of an operation after its first piece, by the same person in the same place.</summary>
    private bool PutRest(int t, PlanEntry first)
    {
        var list = pieces[t];
        var left = slots[t] - (first.End - first.Start);
        while (left > 0)
        {
            onePerson[0] = first.Person;
            onePlace[0] = first.Place;
            var length = Piece(left, longest![t]);
            if (Find(t, list[^1].End, length, onePlace, onePerson) is not { } entry)
            {
                return false;
            }

            Take(problem.Tasks[t], entry);
            list.Add(entry);
            left -= length;
        }

        placed[t] = first with { End = list[^1].End };
        return true;
    }

    private string WhyNever(PlanTask task)
    {
        var longestDay = problem.Axis.Days.Select(d => d.Slots).DefaultIfEmpty(0).Max();
        var name = $"{task.Code} {task.Title}";
        return task.People.Count == 0
                ? $"{name}: nobody who is at work in the coming weeks has the skill for it. Give somebody the skill, or hours, under Hours and skills."
            : task.Places.Count == 0
                ? $"{name}: the shop has no place for it. Add one of its kind to the places in the settings."
            : task.StaysInDay && task.Slots > longestDay
                ? $"{name} is done within one day and takes {Hours(task.Slots)} h, but the longest day has {Hours(longestDay)} h. Give a day more hours, or split it on the route."
            : $"{name} finds no free time of {Hours(task.Slots)} h in a row in the {problem.Axis.Days.Count} days looked at. Look at days off under Hours and skills.";
    }

    private static string Hours(int slots) =>
        (slots * WorkAxis.SlotMinutes / 60m).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The bay that is free first for good, for a car that will keep it.</summary>
    private (int Place, int From)? Bay(int job)
    {
        var facts = problem.Jobs[job];
        if (!facts.HoldsBay)
        {
            return null;
        }

        (int Place, int From)? best = null;
        foreach (var t in ground.TasksOf[job])
        {
            foreach (var p in ground.Places[t])
            {
                if (problem.Places[p].Kind != "bay")
                {
                    continue;
                }

                if (facts.Bay is { } stands)
                {
                    return (stands, 0);
                }

                var from = place[p].AfterLast();
                if (best is not { } other || (from, p).CompareTo((other.From, other.Place)) < 0)
                {
                    best = (p, from);
                }
            }
        }

        return best;
    }

    private void HoldBay(int job)
    {
        if (!problem.Jobs[job].HoldsBay)
        {
            return;
        }

        var there = ground.TasksOf[job].Select(t => placed[t]).OfType<PlanEntry>();
        if (PlanMeasure.BaySpan(problem, job, there) is { } span)
        {
            place[span.Bay].Take(span.Start, span.End);
        }
    }

    /// <summary>Takes an operation at one quarter hour and no other.</summary>
    private PlanEntry? PutAt(int t, int start, int length, int[] places)
    {
        onePerson[0] = wishedFor[t] - 1;
        if (
            !MayBeginAt(problem.Tasks[t], start, length)
            || (wishedFor[t] > 0 && IsOwnWork(t, onePerson[0]))
            || Try(
                t,
                start,
                length,
                places,
                wishedFor[t] > 0 ? onePerson : Candidates(t),
                wishedFor[t] > 0,
                out var entry
            ) != start
        )
        {
            return null;
        }

        Take(problem.Tasks[t], entry!);
        return entry;
    }

    /// <summary>The first quarter hour at which it can be done.</summary>
    /// <param name="who">In the order in which they are asked.</param>
    private PlanEntry? Find(int t, int earliest, int length, int[] places, ReadOnlySpan<int> who)
    {
        var start = Math.Max(0, earliest);
        while (start <= problem.Axis.Slots - length)
        {
            var next = Try(t, start, length, places, who, isKept: false, out var entry);
            if (entry is not null)
            {
                return entry;
            }

            start = next;
        }

        return null;
    }

    /// <summary>Looks at one quarter hour.</summary>
    /// <param name="isKept">The person was set aside for it before.</param>
    /// <returns>The quarter hour itself where it can be done then; else a later one, before which it cannot.</returns>
    private int Try(
        int t,
        int start,
        int length,
        int[] places,
        ReadOnlySpan<int> who,
        bool isKept,
        out PlanEntry? entry
    )
    {
        var task = problem.Tasks[t];
        entry = null;
        if (task.StaysInDay && problem.Axis.DayIndexOf(start) != problem.Axis.DayIndexOf(start + length - 1))
        {
            return problem.Axis.DayOf(start).EndSlot;
        }

        var next = start;
        foreach (var e in ground.Equipment[t])
        {
            next = Math.Max(next, equipment[e].LastTaken(start, length) + 1);
        }

        if (hands[task.Job] is { } own)
        {
            var full = own.AsSpan(start, length)
                .LastIndexOfAnyInRange((byte)Math.Min(byte.MaxValue, problem.MostHandsOnACar), byte.MaxValue);
            next = Math.Max(next, full < 0 ? start : start + full + 1);
        }

        var chosen = -1;
        var soonest = int.MaxValue;
        foreach (var p in who)
        {
            var last = isKept ? -1 : person[p].LastTaken(start, length);
            if (last < 0)
            {
                chosen = p;
                break;
            }

            soonest = Math.Min(soonest, last + 1);
        }

        next = chosen < 0 ? Math.Max(next, soonest) : next;
        soonest = int.MaxValue;
        foreach (var p in places)
        {
            var from = PlaceFrom(task, p, start, length);
            if (from == start && next == start && chosen >= 0)
            {
                entry = new PlanEntry(t, start, start + length, chosen, p);
                return start;
            }

            soonest = Math.Min(soonest, from);
        }

        return Math.Max(next, soonest);
    }

    /// <summary>The first quarter hour, not before a start, at which a place and its air could be free. A car's own operations share its bay; for others it is taken once the job is on the board.</summary>
    private int PlaceFrom(PlanTask task, int p, int start, int length)
    {
        var last = problem.Places[p].IsUnlimited ? -1 : place[p].LastTaken(start, length);
        return last >= 0 ? last + 1 : rooms[ground.RoomOf[p]].ClearFrom(task, start, length);
    }

    private bool MayBeginAt(PlanTask task, int start, int length) =>
        start >= task.Earliest
        && start + length <= problem.Axis.Slots
        && (!task.StaysInDay || problem.Axis.DayIndexOf(start) == problem.Axis.DayIndexOf(start + length - 1));

    private bool IsOwnWork(int t, int who)
    {
        foreach (var work in ground.Worked[t])
        {
            if (placed[work]?.Person == who)
            {
                return true;
            }
        }

        return false;
    }

    private bool IsInspectable(int t) =>
        ground.People[t].Length == 0 || Array.Exists(ground.People[t], p => !IsOwnWork(t, p));

    /// <summary>Somebody who did none of the work is left to look at it.</summary>
    private bool LeavesInspector(int t, int who)
    {
        foreach (var inspection in ground.InspectionsAfter[t])
        {
            if (!Array.Exists(ground.People[inspection], p => p != who && !IsOwnWork(inspection, p)))
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Who may do it, those with the fewest skills and the least on their list first: those who leave an inspector for it, and everybody only where nobody does.</summary>
    private ReadOnlySpan<int> Candidates(int t)
    {
        var count = 0;
        foreach (var p in ground.People[t])
        {
            if (!IsOwnWork(t, p) && LeavesInspector(t, p))
            {
                Insert(p, count++);
            }
        }

        if (count == 0)
        {
            foreach (var p in ground.People[t])
            {
                if (!IsOwnWork(t, p))
                {
                    Insert(p, count++);
                }
            }
        }

        return candidates.AsSpan(0, count);
    }

    /// <summary>Keeps the candidates in order; of two alike the first stays first.</summary>
    private void Insert(int who, int count)
    {
        var at = count;
        while (
            at > 0
            && (ground.Skills[candidates[at - 1]], load[candidates[at - 1]]).CompareTo((ground.Skills[who], load[who]))
                > 0
        )
        {
            candidates[at] = candidates[at - 1];
            at--;
        }

        candidates[at] = who;
    }

    private void Take(PlanTask task, PlanEntry entry)
    {
        everTaken.Add(entry);
        load[entry.Person] += entry.End - entry.Start;
        person[entry.Person].Take(entry.Start, entry.End);
        if (!SharesBay(task, entry) && !problem.Places[entry.Place].IsUnlimited)
        {
            place[entry.Place].Take(entry.Start, entry.End);
        }

        foreach (var e in ground.Equipment[entry.Task])
        {
            equipment[e].Take(entry.Start, entry.End);
        }

        var own = hands[task.Job] ??= new byte[problem.Axis.Slots];
        for (var s = entry.Start; s < entry.End; s++)
        {
            own[s]++;
        }

        rooms[ground.RoomOf[entry.Place]].Add(entry);
    }

    private bool SharesBay(PlanTask task, PlanEntry entry) =>
        problem.Jobs[task.Job].HoldsBay && problem.Places[entry.Place].Kind == "bay";

    private void TakeOff(int job)
    {
        foreach (var t in ground.TasksOf[job])
        {
            var entries =
                pieces.TryGetValue(t, out var list) ? list
                : placed[t] is { } whole ? [whole]
                : [];
            placed[t] = null;
            pieces.Remove(t);
            foreach (var entry in entries)
            {
                TakeOff(problem.Tasks[t], entry);
            }
        }
    }

    private void TakeOff(PlanTask task, PlanEntry entry)
    {
        person[entry.Person].Free(entry.Start, entry.End);
        if (!SharesBay(task, entry))
        {
            place[entry.Place].Free(entry.Start, entry.End);
        }

        foreach (var e in ground.Equipment[entry.Task])
        {
            equipment[e].Free(entry.Start, entry.End);
        }

        rooms[ground.RoomOf[entry.Place]].Remove(entry);
    }
}
