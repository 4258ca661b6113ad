using Google.OrTools.Sat;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Solvers.ShopPlan;

/// <summary>The shop's plan as a constraint model: the rules of <see cref="PlanProblem"/>, one by one.</summary>
internal sealed partial class ShopPlanModel
{
    private readonly PlanProblem problem;
    private readonly int horizon;
    private readonly IReadOnlySet<string> hotRooms;
    private readonly IReadOnlyList<int> earliestEnds;
    private readonly List<int> planned;
    private readonly Dictionary<int, TaskVars> vars = [];
    private readonly List<LinearExpr> late = [];
    private readonly List<LinearExpr> bay = [];
    private readonly List<LinearExpr> moved = [];
    private readonly Dictionary<int, (IntVar Start, IntVar End)> spans = [];
    private readonly List<(IntVar Var, Func<IReadOnlyDictionary<int, PlanEntry>, long> Value)> derived = [];

    /// <param name="horizon">Quarter hours within which everything ends; at least the end of the plan to start from.</param>
    public ShopPlanModel(PlanProblem problem, IReadOnlyCollection<int> leftOut, int horizon)
    {
        this.problem = problem;
        this.horizon = horizon;
        hotRooms = problem.HotRooms();
        earliestEnds = PlanBounds.EarliestEnds(problem);
        planned = [.. Enumerable.Range(0, problem.Tasks.Count).Where(t => !leftOut.Contains(problem.Tasks[t].Job))];
        foreach (var t in planned)
        {
            vars[t] = Vars(t);
        }

        People();
        Bays();
        OtherPlaces();
        Hands();
        Order();
        Rooms();
        Aims();
    }

    public CpModel Model { get; } = new();

    public LinearExpr Late => LinearExpr.Sum(late);

    public LinearExpr Bay => LinearExpr.Sum(bay);

    public LinearExpr Moved => LinearExpr.Sum(moved);

    public bool CanMove => moved.Count > 0;

    private sealed record TaskVars(
        IntVar Start,
        IntervalVar Span,
        IReadOnlyDictionary<int, BoolVar> People,
        IReadOnlyDictionary<int, BoolVar> Places
    );

    /// <summary>Tells the solver of a plan to begin from.</summary>
    public void Hint(IReadOnlyList<PlanEntry> entries)
    {
        Model.ClearHints();
        var byTask = entries.ToDictionary(e => e.Task);
        foreach (var t in planned)
        {
            var entry = byTask[t];
            Model.AddHint(vars[t].Start, entry.Start);
            foreach (var (p, chosen) in vars[t].People)
            {
                Model.AddHint(chosen, p == entry.Person);
            }

            foreach (var (p, chosen) in vars[t].Places)
            {
                Model.AddHint(chosen, p == entry.Place);
            }
        }

        foreach (var (variable, value) in derived)
        {
            Model.AddHint(variable, value(byTask));
        }
    }

    public IReadOnlyList<PlanEntry> Read(Func<IntVar, long> value) =>
        [
            .. planned.Select(t =>
            {
                var start = (int)value(vars[t].Start);
                return new PlanEntry(
                    t,
                    start,
                    start + problem.Tasks[t].Slots,
                    vars[t].People.First(p => value(p.Value) == 1).Key,
                    vars[t].Places.First(p => value(p.Value) == 1).Key
                );
            }),
        ];

    private TaskVars Vars(int t)
    {
        var task = problem.Tasks[t];
        var start = Model.NewIntVarFromDomain(Starts(task), $"s{t}");
        return new TaskVars(
            start,
            Model.NewFixedSizeIntervalVar(start, task.Slots, $"i{t}"),
            Choice(task.People, $"p{t}"),
            Choice(task.Places, $"l{t}")
        );
    }

    private Google.OrTools.Util.Domain Starts(PlanTask task)
    {
        if (task.Begun)
        {
            return new Google.OrTools.Util.Domain(0, 0);
        }

        if (task.Fixed is { } wanted)
        {
            return new Google.OrTools.Util.Domain(wanted, wanted);
        }

        var last = horizon - task.Slots;
        if (!task.StaysInDay)
        {
            return new Google.OrTools.Util.Domain(task.Earliest, last);
        }

        var spans = problem
            .Axis.Days.Select(d =>
                (From: (long)Math.Max(task.Earliest, d.FirstSlot), To: (long)Math.Min(last, d.EndSlot - task.Slots))
            )
            .Where(s => s.To >= s.From)
            .SelectMany(s => new[] { s.From, s.To })
            .ToArray();
        return Google.OrTools.Util.Domain.FromFlatIntervals(spans);
    }

    private Dictionary<int, BoolVar> Choice(IReadOnlyList<int> options, string name)
    {
        var choice = options.ToDictionary(o => o, o => Model.NewBoolVar($"{name}.{o}"));
        Model.AddExactlyOne(choice.Values);
        return choice;
    }

    private IntervalVar When(int t, BoolVar chosen, string name, int more = 0) =>
        more == 0
            ? Model.NewOptionalFixedSizeIntervalVar(vars[t].Start, problem.Tasks[t].Slots, chosen, name)
            : Model.NewOptionalFixedSizeIntervalVar(vars[t].Start, problem.Tasks[t].Slots + more, chosen, name);

    private void People()
    {
        for (var p = 0; p < problem.People.Count; p++)
        {
            var busy = problem
                .People[p]
                .Away.Where(a => a.From < horizon)
                .Select(a => Model.NewFixedSizeIntervalVar(a.From, Math.Min(a.To, horizon) - a.From, "away"))
                .ToList();
            busy.AddRange(
                planned.Where(t => vars[t].People.ContainsKey(p)).Select(t => When(t, vars[t].People[p], $"w{t}.{p}"))
            );
            Model.AddNoOverlap(busy);
        }

        foreach (var code in planned.SelectMany(t => problem.Tasks[t].Equipment).Distinct(StringComparer.Ordinal))
        {
            Model.AddNoOverlap(planned.Where(t => problem.Tasks[t].Equipment.Contains(code)).Select(t => vars[t].Span));
        }
    }

    /// <summary>A car that keeps its bay has one span in it, from its first operation there to its last.</summary>
    private void Bays()
    {
        var inBay = new Dictionary<int, List<IntervalVar>>();
        foreach (var job in planned.GroupBy(t => problem.Tasks[t].Job))
        {
            var facts = problem.Jobs[job.Key];
            var there = job.Where(t => vars[t].Places.Keys.Any(IsBay)).ToList();
            if (there.Count == 0)
            {
                continue;
            }

            if (!facts.HoldsBay)
            {
                foreach (var t in there)
                {
                    foreach (var (place, chosen) in vars[t].Places.Where(p => IsBay(p.Key)))
                    {
                        InBay(place).Add(When(t, chosen, $"b{t}.{place}"));
                    }
                }

                continue;
            }

            var start = facts.Bay is null ? Model.NewIntVar(0, horizon, $"bs{job.Key}") : Model.NewConstant(0);
            var end = Model.NewIntVar(0, horizon, $"be{job.Key}");
            var length = Model.NewIntVar(PlanBounds.LeastInBay(problem, job.Key), horizon, $"bl{job.Key}");
            if (facts.Bay is null)
            {
                Model.AddMinEquality(start, there.Select(t => vars[t].Start));
                derived.Add((start, e => there.Min(t => e[t].Start)));
            }

            Model.AddMaxEquality(end, there.Select(t => vars[t].Start + problem.Tasks[t].Slots));
            derived.Add((end, e => there.Max(t => e[t].End)));
            derived.Add((length, e => there.Max(t => e[t].End) - (facts.Bay is null ? there.Min(t => e[t].Start) : 0)));
            foreach (var place in vars[there[0]].Places.Keys.Where(IsBay))
            {
                var chosen = vars[there[0]].Places[place];
                foreach (var t in there.Skip(1))
                {
                    Model.Add(vars[t].Places[place] == chosen);
                }

                InBay(place).Add(Model.NewOptionalIntervalVar(start, length, end, chosen, $"bi{job.Key}.{place}"));
            }

            bay.Add(length);
            spans[job.Key] = (start, end);
        }

        foreach (var list in inBay.Values)
        {
            Model.AddNoOverlap(list);
        }

        List<IntervalVar> InBay(int place) => inBay.TryGetValue(place, out var list) ? list : inBay[place] = [];
    }

    private bool IsBay(int place) => problem.Places[place].Kind == "bay";

    private void OtherPlaces()
    {
        for (var p = 0; p < problem.Places.Count; p++)
        {
            if (!problem.Places[p].IsUnlimited && !IsBay(p))
            {
                Model.AddNoOverlap(
                    planned
                        .Where(t => vars[t].Places.ContainsKey(p))
                        .Select(t => When(t, vars[t].Places[p], $"o{t}.{p}"))
                );
            }
        }
    }

    private void Hands()
    {
        foreach (var job in planned.GroupBy(t => problem.Tasks[t].Job).Where(g => g.Count() > problem.MostHandsOnACar))
        {
            var limit = Model.AddCumulative(problem.MostHandsOnACar);
            foreach (var t in job)
            {
                limit.AddDemand(vars[t].Span, 1);
            }
        }
    }

    private void Order()
    {
        foreach (var t in planned)
        {
            foreach (var before in problem.Tasks[t].Before)
            {
                var end = vars[before.Task].Start + problem.Tasks[before.Task].Slots;
                if (before.RestMinutes == 0)
                {
                    Model.Add(vars[t].Start >= end);
                }
                else
                {
                    var free = Model.NewIntVar(0, problem.Axis.Slots, $"r{before.Task}.{t}");
                    var from = problem.Tasks[before.Task].Slots;
                    var table = Enumerable
                        .Range(0, horizon - from + 1)
                        .Select(s => (long)problem.Axis.AfterRest(s + from, before.RestMinutes));
                    Model.AddElement(vars[before.Task].Start, table, free);
                    Model.Add(vars[t].Start >= free);
                    derived.Add((free, e => problem.Axis.AfterRest(e[before.Task].End, before.RestMinutes)));
                }

                if (
                    !before.ForWay
                    && problem.Tasks[t].IsInspection
                    && !problem.Tasks[before.Task].IsInspection
                    && !problem.SelfInspection
                )
                {
                    foreach (var p in problem.Tasks[t].People.Intersect(problem.Tasks[before.Task].People))
                    {
                        Model.AddAtMostOne([vars[t].People[p], vars[before.Task].People[p]]);
                    }
                }
            }
        }
    }

    private void Aims()
    {
        foreach (var job in planned.GroupBy(t => problem.Tasks[t].Job))
        {
            if (problem.Jobs[job.Key] is { DueSlot: { } due, Weight: var weight } && due < horizon)
            {
                var least = Math.Max(0, job.Max(t => earliestEnds[t]) - due);
                var slots = Model.NewIntVar(least, horizon, $"late{job.Key}");
                foreach (var t in job)
                {
                    Model.Add(slots >= vars[t].Start + problem.Tasks[t].Slots - due);
                }

                late.Add(slots * weight);
                derived.Add((slots, e => Math.Max(0, job.Max(t => e[t].End) - due)));
            }
        }

        foreach (var t in planned)
        {
            if (problem.Tasks[t].Planned is { } before)
            {
                var day = problem.Axis.DayOf(Math.Min(before, problem.Axis.Slots - 1));
                if (day.FirstSlot >= horizon)
                {
                    continue;
                }

                var moves = Model.NewBoolVar($"moved{t}");
                Model
                    .AddLinearExpressionInDomain(
                        vars[t].Start,
                        new Google.OrTools.Util.Domain(day.FirstSlot, day.EndSlot - 1)
                    )
                    .OnlyEnforceIf(moves.Not());
                moved.Add(moves);
                derived.Add((moves, e => e[t].Start >= day.FirstSlot && e[t].Start < day.EndSlot ? 0 : 1));
            }
        }
    }
}
