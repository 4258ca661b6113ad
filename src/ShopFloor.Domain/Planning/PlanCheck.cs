namespace ShopFloor.Domain.Planning;

/// <summary>Which rule a plan breaks.</summary>
public enum PlanFault
{
    NotOnceEach,
    Length,
    TooEarly,
    NotWhereWanted,
    OverNight,
    Skill,
    Absent,
    TwoThingsAtOnce,
    PlaceUnknown,
    PlaceTaken,
    BayTaken,
    TooManyHands,
    Equipment,
    Order,
    Rest,
    AccessWay,
    OwnWork,
    SparksAndFumes,
}

/// <summary>One breach of a rule.</summary>
/// <param name="Tasks">Operations concerned, as places in <see cref="PlanProblem.Tasks"/>.</param>
public sealed record PlanBreach(PlanFault Fault, string Text, IReadOnlyList<int> Tasks);

/// <summary>Looks at a plan with nothing but the rules of <see cref="PlanProblem"/>, whoever made it.</summary>
/// <remarks>Written apart from every planner, and slower than it could be, so that a fault in one is not repeated here.</remarks>
public static class PlanCheck
{
    /// <summary>All breaches; empty for a plan that can be worked.</summary>
    /// <param name="leftOut">Jobs that the plan leaves out on purpose.</param>
    public static IReadOnlyList<PlanBreach> Run(
        PlanProblem problem,
        IReadOnlyList<PlanEntry> entries,
        IReadOnlyCollection<int>? leftOut = null
    )
    {
        ArgumentNullException.ThrowIfNull(problem);
        ArgumentNullException.ThrowIfNull(entries);
        var check = new Pass(problem, entries);
        check.OnceEach(leftOut ?? []);
        return check.Breaches.Count > 0 ? check.Breaches : check.Rules();
    }

    private sealed class Pass(PlanProblem problem, IReadOnlyList<PlanEntry> entries)
    {
        public List<PlanBreach> Breaches { get; } = [];

        private PlanTask Task(PlanEntry entry) => problem.Tasks[entry.Task];

        private string Name(PlanEntry entry) =>
            $"{problem.Jobs[Task(entry).Job].Number} {Task(entry).Code} {Task(entry).Title}";

        private void Add(PlanFault fault, string text, params PlanEntry[] concerned) =>
            Breaches.Add(new PlanBreach(fault, text, [.. concerned.Select(e => e.Task)]));

        public void OnceEach(IReadOnlyCollection<int> leftOut)
        {
            var counts = entries.ToLookup(e => e.Task);
            for (var task = 0; task < problem.Tasks.Count; task++)
            {
                var wanted = leftOut.Contains(problem.Tasks[task].Job) ? 0 : 1;
                if (counts[task].Count() != wanted)
                {
                    Breaches.Add(
                        new PlanBreach(
                            PlanFault.NotOnceEach,
                            $"{problem.Tasks[task].Code} {problem.Tasks[task].Title} is planned {counts[task].Count()} times.",
                            [task]
                        )
                    );
                }
            }

            foreach (
                var entry in entries.Where(e =>
                    e.Task < 0
                    || e.Task >= problem.Tasks.Count
                    || e.Start < 0
                    || e.End > problem.Axis.Slots
                    || e.Person < 0
                    || e.Person >= problem.People.Count
                    || e.Place < 0
                    || e.Place >= problem.Places.Count
                )
            )
            {
                Breaches.Add(
                    new PlanBreach(PlanFault.NotOnceEach, "An entry names what does not exist.", [entry.Task])
                );
            }
        }

        public List<PlanBreach> Rules()
        {
            foreach (var entry in entries)
            {
                Alone(entry);
            }

            foreach (var (first, second) in Pairs())
            {
                Together(first, second);
            }

            foreach (var job in entries.GroupBy(e => Task(e).Job))
            {
                OfJob([.. job.OrderBy(e => e.Start)], problem.Jobs[job.Key]);
            }

            Bays();
            Rooms();
            return Breaches;
        }

        private IEnumerable<(PlanEntry First, PlanEntry Second)> Pairs()
        {
            var ordered = entries.OrderBy(e => e.Start).ToList();
            for (var i = 0; i < ordered.Count; i++)
            {
                for (var j = i + 1; j < ordered.Count && ordered[j].Start < ordered[i].End; j++)
                {
                    yield return (ordered[i], ordered[j]);
                }
            }
        }

        private void Alone(PlanEntry entry)
        {
            var task = Task(entry);
            if (entry.End - entry.Start != task.Slots)
            {
                Add(
                    PlanFault.Length,
                    $"{Name(entry)} takes {entry.End - entry.Start} quarter hours, not {task.Slots}.",
                    entry
                );
            }

            if (entry.Start < task.Earliest)
            {
                Add(PlanFault.TooEarly, $"{Name(entry)} begins before it can.", entry);
            }

            if ((task.Begun && entry.Start != 0) || (task.Fixed is { } wanted && entry.Start != wanted))
            {
                Add(PlanFault.NotWhereWanted, $"{Name(entry)} does not begin when it was set to.", entry);
            }

            if (task.StaysInDay && problem.Axis.DayOf(entry.Start) != problem.Axis.DayOf(entry.End - 1))
            {
                Add(PlanFault.OverNight, $"{Name(entry)} would be left overnight.", entry);
            }

            if (!task.People.Contains(entry.Person))
            {
                Add(PlanFault.Skill, $"{problem.People[entry.Person].Name} does not do {Name(entry)}.", entry);
            }

            if (!problem.People[entry.Person].IsThere(entry.Start, entry.End))
            {
                Add(PlanFault.Absent, $"{problem.People[entry.Person].Name} is away during {Name(entry)}.", entry);
            }

            if (!task.Places.Contains(entry.Place))
            {
                Add(
                    PlanFault.PlaceUnknown,
                    $"{Name(entry)} is not done in {problem.Places[entry.Place].Title}.",
                    entry
                );
            }
        }

        /// <summary>Two that overlap in time.</summary>
        private void Together(PlanEntry first, PlanEntry second)
        {
            if (first.Person == second.Person)
            {
                Add(
                    PlanFault.TwoThingsAtOnce,
                    $"{problem.People[first.Person].Name} would do {Name(first)} and {Name(second)} at once.",
                    first,
                    second
                );
            }

            var sameCar = Task(first).Job == Task(second).Job && problem.Jobs[Task(first).Job].HoldsBay;
            if (
                first.Place == second.Place
                && !problem.Places[first.Place].IsUnlimited
                && !(sameCar && problem.Places[first.Place].Kind == "bay")
            )
            {
                Add(
                    PlanFault.PlaceTaken,
                    $"{problem.Places[first.Place].Title} would hold {Name(first)} and {Name(second)} at once.",
                    first,
                    second
                );
            }

            if (Task(first).Equipment.Intersect(Task(second).Equipment).Any())
            {
                Add(
                    PlanFault.Equipment,
                    $"{Name(first)} and {Name(second)} want the same equipment at once.",
                    first,
                    second
                );
            }
        }

        private void OfJob(IReadOnlyList<PlanEntry> of, PlanJob job)
        {
            var byTask = of.ToDictionary(e => e.Task);
            foreach (var entry in of)
            {
                foreach (var before in Task(entry).Before)
                {
                    if (!byTask.TryGetValue(before.Task, out var earlier))
                    {
                        continue;
                    }

                    if (earlier.End > entry.Start)
                    {
                        Add(PlanFault.Order, $"{Name(entry)} begins before {Name(earlier)} is over.", earlier, entry);
                    }
                    else if (
                        before.RestMinutes > 0
                        && problem.Axis.StartOf(entry.Start)
                            < problem.Axis.EndOf(earlier.End).AddMinutes(before.RestMinutes)
                    )
                    {
                        Add(PlanFault.Rest, $"{Name(entry)} begins before {Name(earlier)} has cured.", earlier, entry);
                    }

                    if (
                        !before.ForWay
                        && Task(entry).IsInspection
                        && !Task(earlier).IsInspection
                        && !problem.SelfInspection
                        && earlier.Person == entry.Person
                    )
                    {
                        Add(
                            PlanFault.OwnWork,
                            $"{problem.People[entry.Person].Name} would look at their own work in {Name(entry)}.",
                            earlier,
                            entry
                        );
                    }
                }

                if (of.Count(e => e.Start <= entry.Start && e.End > entry.Start) > problem.MostHandsOnACar)
                {
                    Add(PlanFault.TooManyHands, $"Too many people on {job.Number} when {Name(entry)} begins.", entry);
                }
            }

            Ways(of, job);
        }

        /// <summary>Follows the access ways through time: at one instant ends come before beginnings.</summary>
        private void Ways(IReadOnlyList<PlanEntry> of, PlanJob job)
        {
            var open = job.OpenWays.ToHashSet(StringComparer.Ordinal);
            var running = new List<PlanEntry>();
            var moments = of.SelectMany(e => new[] { (At: e.Start, Ends: false, e), (At: e.End, Ends: true, e) })
                .OrderBy(m => m.At)
                .ThenByDescending(m => m.Ends)
                .ThenBy(m => Task(m.e).Closes.Count);
            foreach (var (_, ends, entry) in moments)
            {
                if (ends)
                {
                    running.Remove(entry);
                    open.UnionWith(Task(entry).Opens);
                    continue;
                }

                foreach (var way in Task(entry).NeedsOpen.Where(w => !open.Contains(w)))
                {
                    Add(PlanFault.AccessWay, $"{Name(entry)} finds {way} closed.", entry);
                }

                foreach (var other in running.Where(r => Task(r).NeedsOpen.Intersect(Task(entry).Closes).Any()))
                {
                    Add(PlanFault.AccessWay, $"{Name(entry)} closes a way that {Name(other)} is using.", other, entry);
                }

                open.ExceptWith(Task(entry).Closes);
                running.Add(entry);
            }
        }

        private void Bays()
        {
            var spans = entries
                .GroupBy(e => Task(e).Job)
                .Select(g => (Job: g.Key, Entries: g.ToList()))
                .Select(g => (g.Job, Span: PlanMeasure.BaySpan(problem, g.Job, g.Entries), g.Entries))
                .Where(g => g.Span is not null)
                .Select(g => (g.Job, Span: g.Span!.Value, g.Entries))
                .ToList();
            foreach (var (job, span, of) in spans)
            {
                if (of.Where(e => problem.Places[e.Place].Kind == "bay").Any(e => e.Place != span.Bay))
                {
                    Add(PlanFault.BayTaken, $"{problem.Jobs[job].Number} would change its bay.", of[0]);
                }

                if (problem.Jobs[job].Bay is { } stands && stands != span.Bay)
                {
                    Add(PlanFault.BayTaken, $"{problem.Jobs[job].Number} stands in another bay.", of[0]);
                }

                foreach (
                    var other in entries.Where(e =>
                        Task(e).Job != job && e.Place == span.Bay && e.Start < span.End && e.End > span.Start
                    )
                )
                {
                    Add(
                        PlanFault.BayTaken,
                        $"{Name(other)} is planned in {problem.Places[span.Bay].Title} while {problem.Jobs[job].Number} stands there.",
                        other
                    );
                }
            }

            foreach (var (a, i) in spans.Select((s, i) => (s, i)))
            {
                foreach (
                    var b in spans
                        .Skip(i + 1)
                        .Where(b => b.Span.Bay == a.Span.Bay && b.Span.Start < a.Span.End && b.Span.End > a.Span.Start)
                )
                {
                    Add(
                        PlanFault.BayTaken,
                        $"{problem.Jobs[a.Job].Number} and {problem.Jobs[b.Job].Number} would stand in {problem.Places[a.Span.Bay].Title} at once.",
                        a.Entries[0],
                        b.Entries[0]
                    );
                }
            }
        }

        private void Rooms()
        {
            var hotRooms = problem.HotRooms();
            foreach (var room in entries.GroupBy(e => problem.Places[e.Place].Room))
            {
                foreach (var paint in room.Where(e => Task(e).IsPaint))
                {
                    var day = problem.Axis.DayOf(paint.Start);
                    if (paint.Start < problem.PaintFrom(day, hotRooms.Contains(room.Key)))
                    {
                        Add(
                            PlanFault.SparksAndFumes,
                            $"{Name(paint)} begins within the fire watch after opening.",
                            paint
                        );
                    }

                    foreach (var other in room.Where(e => !Task(e).IsPaint && e.Start < day.EndSlot))
                    {
                        var end = other.End + (Task(other).IsHot ? problem.FireWatchSlots : 0);
                        if (end > paint.Start && other.End > day.FirstSlot)
                        {
                            Add(
                                PlanFault.SparksAndFumes,
                                $"{Name(other)} is in the air of {Name(paint)} on the same day.",
                                paint,
                                other
                            );
                        }
                    }
                }
            }
        }
    }
}
