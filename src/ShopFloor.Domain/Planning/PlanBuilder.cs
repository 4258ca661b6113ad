using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Planning;

/// <summary>Somebody of the shop, for planning.</summary>
public sealed record PlanHand(PersonId Id, string Name, IReadOnlyList<string> Skills, PersonHours? Own);

/// <summary>A job that is to be planned.</summary>
/// <param name="Title">The car, as people call it.</param>
/// <param name="Hours">Expected hours of each operation.</param>
/// <param name="CarIsHere">It was dropped off, or work on it has begun; true where there is no car.</param>
/// <param name="CarComesAt">When it is expected; null where nobody has said.</param>
/// <param name="Planned">Where the last plan had its operations begin.</param>
public sealed record PlanOrder(
    Job Job,
    string Title,
    IReadOnlyDictionary<string, decimal> Hours,
    GateFacts Facts,
    PlanWishes Wishes,
    bool CarIsHere,
    DateTimeOffset? CarComesAt,
    IReadOnlyDictionary<string, DateTimeOffset> Planned
);

/// <summary>A plan's question, and what was taken for granted in it, as sentences by job.</summary>
public sealed record PlanQuestion(PlanProblem Problem, IReadOnlyList<PlanGranted> Granted);

/// <summary>Something that is not known and was taken for granted.</summary>
public sealed record PlanGranted(JobId Job, string Number, string Text);

/// <summary>Draws up what is to be planned from the shop's hours, people, places and open jobs.</summary>
public sealed partial class PlanBuilder
{
    /// <summary>Days looked ahead where the work does not ask for more.</summary>
    public const int LeastDays = 70;

    private readonly Shop shop;
    private readonly ShopHours hours;
    private readonly ShopPlaces places;
    private readonly DateTimeOffset now;
    private readonly WorkAxis axis;
    private readonly IReadOnlyList<PlanHand> hands;
    private readonly List<PlanPerson> people;
    private readonly List<PlanPlace> planPlaces;
    private readonly List<PlanJob> jobs = [];
    private readonly List<PlanTask> tasks = [];
    private readonly List<PlanGranted> granted = [];
    private readonly HashSet<int> baysTaken = [];
    private readonly HashSet<int> peopleBusy = [];
    private readonly int tomorrow;

    private PlanBuilder(Shop shop, ShopHours hours, IReadOnlyList<PlanHand> hands, DateTimeOffset now, int days)
    {
        this.shop = shop;
        this.hours = hours;
        this.hands = hands;
        this.now = now;
        places = ShopPlaces.Of(shop.Places);
        var today = shop.LocalDay(now);
        axis = WorkAxis.Of(now, Enumerable.Range(0, days).Select(d => OpenDay(today.AddDays(d))));
        people = [.. hands.Select(Person)];
        planPlaces =
        [
            .. places.All.SelectMany(p =>
                Enumerable
                    .Range(1, hours.HoldsAtOnce(p.Code))
                    .Select(n => new PlanPlace(p.Code, p.Title, p.Kind, hours.RoomOf(p.Code), n))
            ),
        ];
        tomorrow = axis.StartOfDay(today.AddDays(1));
    }

    /// <param name="hands">Everybody who works.</param>
    /// <param name="orders">Open jobs with something left to do.</param>
    public static PlanQuestion Build(
        Shop shop,
        ShopHours hours,
        IReadOnlyList<PlanHand> hands,
        IReadOnlyList<PlanOrder> orders,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(hours);
        ArgumentNullException.ThrowIfNull(hands);
        ArgumentNullException.ThrowIfNull(orders);
        var builder = new PlanBuilder(shop, hours, hands, now, Days(hours, hands, orders));
        foreach (var order in orders.OrderBy(o => o.Job.Number, StringComparer.Ordinal))
        {
            builder.Add(order);
        }

        return new PlanQuestion(
            new PlanProblem(builder.axis, builder.people, builder.planPlaces, builder.jobs, builder.tasks)
            {
                FireWatchSlots = (shop.FireWatchMinutes + WorkAxis.SlotMinutes - 1) / WorkAxis.SlotMinutes,
                MostHandsOnACar = hours.HandsOnACar,
                SelfInspection = shop.SelfInspection,
            },
            builder.granted
        );
    }

    /// <summary>Enough days for all the work done one thing after another at half speed, within the longest look ahead.</summary>
    private static int Days(ShopHours hours, IReadOnlyList<PlanHand> hands, IReadOnlyList<PlanOrder> orders)
    {
        var week = Math.Max(1, Math.Max(hours.Hours.Hours, hands.Max(h => (decimal?)h.Own?.Hours?.Hours) ?? 0));
        var work = orders.Sum(o =>
            o.Job.Operations.Where(p => !p.IsOver).Sum(p => Math.Max(0.25m, o.Hours.GetValueOrDefault(p.Code)))
        );
        var off = hours.Closed.Sum(c => c.To.DayNumber - c.From.DayNumber + 1);
        return (int)Math.Min(WorkAxis.MostDays, LeastDays + off + (work / week * 7 * 2));
    }

    private (DateOnly, IReadOnlyList<OpenSpan>) OpenDay(DateOnly day)
    {
        if (hours.IsClosed(day))
        {
            return (day, []);
        }

        var spans = hands
            .Where(h => h.Own?.Hours is not null)
            .SelectMany(h => h.Own!.Hours!.On(day))
            .Concat(hours.Hours.On(day))
            .OrderBy(s => s.From)
            .Aggregate(new List<HourSpan>(), Join)
            .Select(s => new OpenSpan(shop.InstantOf(day, s.From), shop.InstantOf(day, s.To)))
            .Where(s => s.To > s.From);
        return (day, [.. spans]);
    }

    private static List<HourSpan> Join(List<HourSpan> list, HourSpan next)
    {
        if (list.Count > 0 && next.From <= list[^1].To)
        {
            list[^1] = new HourSpan(list[^1].From, next.To > list[^1].To ? next.To : list[^1].To);
        }
        else
        {
            list.Add(next);
        }

        return list;
    }

    private PlanPerson Person(PlanHand hand)
    {
        var away = new List<(int From, int To)>();
        for (var slot = 0; slot < axis.Slots; slot++)
        {
            var day = axis.DayOf(slot).Day;
            var own = (hand.Own?.Hours ?? hours.Hours).On(day);
            var from = axis.StartOf(slot);
            var isThere =
                hand.Own?.IsAway(day) != true
                && own.Any(s =>
                    shop.InstantOf(day, s.From) <= from
                    && shop.InstantOf(day, s.To) >= from.AddMinutes(WorkAxis.SlotMinutes)
                );
            if (isThere)
            {
                continue;
            }

            if (away.Count > 0 && away[^1].To == slot)
            {
                away[^1] = (away[^1].From, slot + 1);
            }
            else
            {
                away.Add((slot, slot + 1));
            }
        }

        return new PlanPerson(hand.Id, hand.Name, hand.Skills, away);
    }

    private void Add(PlanOrder order)
    {
        var job = order.Job;
        var plan = JobSequence.PlanAfter(job, null, default, job.OpenWays);
        if (plan.Operations.Count == 0)
        {
            return;
        }

        var sequence = SequenceCheck.Run(plan);
        var codes = sequence.CanFinish is true ? sequence.Order : [.. plan.Operations.Select(o => o.Id)];
        if (sequence.CanFinish is not true)
        {
            Grant(
                order,
                "It is not shown that its operations can be finished in some order; the plan takes them in route order."
            );
        }

        var number = jobs.Count;
        var bay = Bay(order);
        jobs.Add(
            new PlanJob(
                job.Id,
                job.Number,
                order.Title,
                job.PromisedOn is { } promised ? axis.EndOfDay(promised) : null,
                order.Wishes.Weight,
                bay,
                job.HasCarHere,
                job.OpenWays
            )
        );
        var byCode = plan.Operations.ToDictionary(o => o.Id, StringComparer.Ordinal);
        var place = codes
            .Select((c, i) => (c, i))
            .ToDictionary(p => p.c, p => tasks.Count + p.i, StringComparer.Ordinal);
        var forWays = WayOrder.Of([.. codes.Select(c => byCode[c])]).ToLookup(p => p.Second, p => p.First);
        var carSlot = CarSlot(order);
        foreach (var code in codes)
        {
            tasks.Add(Task(order, job.Operation(code)!, byCode[code], number, bay, carSlot, place, forWays[code]));
        }
    }

    private PlanTask Task(
        PlanOrder order,
        Operation operation,
        SequenceOperation sequence,
        int job,
        int? bay,
        int carSlot,
        Dictionary<string, int> place,
        IEnumerable<string> forWays
    )
    {
        var wish = order.Wishes.For(operation.Code);
        var skilled = Skilled(order, operation);
        var onIt = operation
            .Running.Select(t => people.FindIndex(p => p.Id == t.Worker.Person))
            .FirstOrDefault(p => p >= 0, -1);
        var wanted = wish.Person is { } person ? people.FindIndex(p => p.Id == person) : -1;
        var slots = Slots(order, operation);
        var hasPlace = operation.Place != "bay" || bay is not null;
        var begun = onIt >= 0 && hasPlace && people[onIt].IsThere(0, slots) && peopleBusy.Add(onIt);
        var kinds = Enumerable.Range(0, planPlaces.Count).Where(p => planPlaces[p].Kind == operation.Place).ToList();
        var (earliest, awaits) = begun ? (0, null) : Earliest(order, operation, wish, carSlot);
        var before = sequence
            .After.Select(c => new PlanBefore(place[c], Rest(operation, order.Job.Operation(c)!)))
            .ToList();
        before.AddRange(
            forWays.Where(c => !sequence.After.Contains(c)).Select(c => new PlanBefore(place[c], 0, ForWay: true))
        );
        return new PlanTask(
            job,
            operation.Code,
            operation.Title,
            operation.Phase,
            slots,
            begun ? [onIt]
                : wanted >= 0 ? [wanted]
                : skilled,
            operation.Place == "bay" && bay is { } stands ? [stands] : kinds,
            before,
            earliest
        )
        {
            Awaits = awaits,
            IsHot = operation.Route.HotWork,
            IsPaint = operation.Route.PaintOrSolvent,
            IsInspection = operation.IsInspection,
            InOneDay = operation.Route.InOneDay,
            Begun = begun,
            Fixed = !begun && wish.BeginsAt(now) is { } at ? axis.SlotAtOrAfter(at) : null,
            Equipment = operation.Route.Equipment,
            NeedsOpen = sequence.NeedsOpen,
            Closes = sequence.Closes,
            Opens = sequence.Opens,
            Planned = order.Planned.TryGetValue(operation.Code, out var planned) ? axis.SlotAtOrAfter(planned) : null,
        };
    }

    /// <summary>Who has the skill; to look at work that is done already, only those who did none of it.</summary>
    private List<int> Skilled(PlanOrder order, Operation operation)
    {
        var able = Enumerable.Range(0, people.Count).Where(p => people[p].Skills.Contains(operation.Skill)).ToList();
        if (!operation.IsInspection || shop.SelfInspection)
        {
            return able;
        }

        var workers = operation
            .Route.After.Select(c => order.Job.Operation(c))
            .Where(o => o is { IsOver: true, IsInspection: false })
            .SelectMany(o => o!.Times)
            .Select(t => t.Worker.Person)
            .ToHashSet();
        var others = able.FindAll(p => !workers.Contains(people[p].Id));
        if (others.Count == 0 && able.Count > 0)
        {
            Grant(
                order,
                $"{operation.Code} {operation.Title}: everybody who inspects has worked on it; planned as if somebody else looked at it."
            );
        }

        return others.Count > 0 ? others : able;
    }

    /// <summary>Quarter hours left: what is expected less what is logged, at least one.</summary>
    private int Slots(PlanOrder order, Operation operation)
    {
        var expected = (double)order.Hours.GetValueOrDefault(operation.Code) * 60;
        var left = expected - operation.Minutes(now);
        return (int)Math.Max(1, Math.Ceiling(left / WorkAxis.SlotMinutes));
    }

    private static int Rest(Operation operation, Operation before) =>
        operation.Route.Gates.Any(g => g.Kind == GateKind.Cure && g.Operation == before.Code)
            ? before.Route.CureMinutes
            : 0;

    /// <summary>The bay in which the car stands: it has been worked on there. More cars than bays: the others are taken to stand outside.</summary>
    private int? Bay(PlanOrder order)
    {
        var job = order.Job;
        if (
            !job.HasCarHere
            || !job.Operations.Any(o => o.Place == "bay" && o.BegunAt is not null && o.DoneBeforeOn is null)
        )
        {
            return null;
        }

        var codes = places.Possible(job, "bay");
        var possible = planPlaces.Index().Where(p => codes.Contains(p.Item.Code)).Select(p => p.Index);
        foreach (var bay in possible)
        {
            if (baysTaken.Add(bay))
            {
                return bay;
            }
        }

        Grant(
            order,
            "More cars are begun than there are bays; this one is taken to stand outside until a bay is free."
        );
        return null;
    }

    private void Grant(PlanOrder order, string text) =>
        granted.Add(new PlanGranted(order.Job.Id, order.Job.Number, text));
}
