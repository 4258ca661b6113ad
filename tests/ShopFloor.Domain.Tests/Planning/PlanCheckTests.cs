using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Tests.Planning;

/// <summary>Seeds one fault after another into plans that keep the rules: the check must name each.</summary>
public sealed class PlanCheckTests
{
    public static TheoryData<PlanFault> Faults() => [.. Enum.GetValues<PlanFault>()];

    [Theory]
    [MemberData(nameof(Faults))]
    public void Every_seeded_fault_is_found(PlanFault fault)
    {
        var seeded = 0;
        for (var seed = 0; seed < 120 && seeded < 10; seed++)
        {
            var result = DispatchPlan.Run(RandomShop.Make(seed, 4, 8));
            if (result.LeftOut.Count > 0)
            {
                continue;
            }

            if (Spoil(result.Problem, [.. result.Entries], fault) is not { } spoilt)
            {
                continue;
            }

            seeded++;
            Assert.Contains(PlanCheck.Run(spoilt.Problem, spoilt.Entries), b => b.Fault == fault);
        }

        Assert.True(seeded >= 3, $"{fault} could be seeded only {seeded} times");
    }

    /// <summary>The plan with one fault of this kind in it; null where this plan has no room for one.</summary>
    private static (PlanProblem Problem, List<PlanEntry> Entries)? Spoil(
        PlanProblem problem,
        List<PlanEntry> plan,
        PlanFault fault
    )
    {
        PlanTask Of(PlanEntry e) => problem.Tasks[e.Task];
        PlanEntry At(int task) => plan.Single(e => e.Task == task);
        (PlanProblem, List<PlanEntry>)? Put(PlanEntry? was, Func<PlanEntry, PlanEntry> now) =>
            was is null ? null : (problem, [.. plan.Select(e => e == was ? now(e) : e)]);
        (PlanProblem, List<PlanEntry>)? Change(PlanEntry? of, Func<PlanTask, PlanTask> now) =>
            of is null
                ? null
                : (problem with { Tasks = [.. problem.Tasks.Select((t, i) => i == of.Task ? now(t) : t)] }, plan);
        PlanEntry Move(PlanEntry e, int start) => e with { Start = start, End = start + (e.End - e.Start) };
        PlanEntry? Other(PlanEntry e, Func<PlanEntry, bool> also) =>
            plan.Find(o => o.Task != e.Task && o.Start < e.End && o.End > e.Start && also(o));

        switch (fault)
        {
            case PlanFault.NotOnceEach:
                return (problem, [.. plan.Skip(1)]);
            case PlanFault.Length:
                return Put(plan.Find(e => e.End < problem.Axis.Slots), e => e with { End = e.End + 1 });
            case PlanFault.TooEarly:
                return Change(plan[0], t => t with { Earliest = plan[0].Start + 1 });
            case PlanFault.NotWhereWanted:
                return Change(plan[0], t => t with { Fixed = plan[0].Start + 1 });
            case PlanFault.OverNight:
                return Change(
                    plan.Find(e => problem.Axis.DayOf(e.Start) != problem.Axis.DayOf(e.End - 1)),
                    t => t with { InOneDay = true }
                );
            case PlanFault.Skill:
                return Change(plan[0], t => t with { People = [.. t.People.Where(p => p != plan[0].Person)] });
            case PlanFault.Absent:
                return (
                    problem with
                    {
                        People =
                        [
                            .. problem.People.Select(
                                (p, i) => i == plan[0].Person ? p with { Away = [(plan[0].End - 1, plan[0].End)] } : p
                            ),
                        ],
                    },
                    plan
                );
            case PlanFault.TwoThingsAtOnce:
                return plan.Find(e => Other(e, _ => true) is not null) is { } busy
                    ? Put(busy, e => e with { Person = Other(busy, _ => true)!.Person })
                    : null;
            case PlanFault.PlaceUnknown:
                return Put(plan.Find(e => !Of(e).Places.Contains(2)), e => e with { Place = 2 });
            case PlanFault.PlaceTaken:
                return plan.Find(e => e.Place == 2 && Other(e, o => Of(o).Job != Of(e).Job) is not null) is { } bench
                    ? Put(Other(bench, o => Of(o).Job != Of(bench).Job), e => e with { Place = 2 })
                    : null;
            case PlanFault.BayTaken:
                var holders = plan.Where(e => e.Place < 2 && problem.Jobs[Of(e).Job].HoldsBay).ToList();
                var guest = holders.Find(e =>
                    holders.Exists(o =>
                        Of(o).Job != Of(e).Job && o.Place != e.Place && o.Start < e.End && o.End > e.Start
                    )
                );
                return guest is null
                    ? null
                    : (
                        problem,
                        [
                            .. plan.Select(e =>
                                Of(e).Job == Of(guest).Job && e.Place < 2 ? e with { Place = 1 - guest.Place } : e
                            ),
                        ]
                    );
            case PlanFault.TooManyHands:
                return plan.Exists(e => Other(e, o => Of(o).Job == Of(e).Job) is not null)
                    ? (problem with { MostHandsOnACar = 1 }, plan)
                    : null;
            case PlanFault.Equipment:
                if (plan.Find(e => Other(e, _ => true) is not null) is not { } first)
                {
                    return null;
                }

                var second = Other(first, _ => true)!.Task;
                return (
                    problem with
                    {
                        Tasks =
                        [
                            .. problem.Tasks.Select(
                                (t, i) => i == first.Task || i == second ? t with { Equipment = ["saw"] } : t
                            ),
                        ],
                    },
                    plan
                );
            case PlanFault.Order:
                return Put(
                    plan.Find(e => Of(e).Before.Any(b => b.RestMinutes == 0)),
                    e => Move(e, At(Of(e).Before.First(b => b.RestMinutes == 0).Task).Start)
                );
            case PlanFault.Rest:
                return Put(
                    plan.Find(e => Of(e).Before.Any(b => b.RestMinutes > 0)),
                    e => Move(e, At(Of(e).Before.First(b => b.RestMinutes > 0).Task).End)
                );
            case PlanFault.AccessWay:
                return plan.Find(e => Of(e).Closes.Count > 0) is { } closer
                    ? Put(
                        plan.Find(e => Of(e).Job == Of(closer).Job && Of(e).NeedsOpen.Count > 0),
                        e => Move(e, closer.End)
                    )
                    : null;
            case PlanFault.OwnWork:
                return
                    plan.Find(e =>
                        Of(e).IsInspection && Of(e).Before.Any(b => !b.ForWay && !problem.Tasks[b.Task].IsInspection)
                    )
                        is { } looks
                    ? Put(
                        looks,
                        e =>
                            e with
                            {
                                Person = At(
                                    Of(looks).Before.First(b => !b.ForWay && !problem.Tasks[b.Task].IsInspection).Task
                                ).Person,
                            }
                    )
                    : null;
            default:
                var paint = plan.Find(e => Of(e).IsPaint);
                return paint is null
                    ? null
                    : Put(
                        plan.Find(e =>
                            !Of(e).IsPaint && problem.Places[e.Place].Room == problem.Places[paint.Place].Room
                        ),
                        e => Move(e, Math.Min(paint.End, problem.Axis.DayOf(paint.Start).EndSlot - 1))
                    );
        }
    }
}
