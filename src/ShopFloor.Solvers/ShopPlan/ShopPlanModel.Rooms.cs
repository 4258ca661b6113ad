using Google.OrTools.Sat;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Solvers.ShopPlan;

/// <content>Sparks and fumes: whose the air of a room is, day by day.</content>
internal sealed partial class ShopPlanModel
{
    /// <summary>Each room has, for each day, the quarter hour from which its air belongs to paint; everything else is over before, and its sparks watched.</summary>
    private void Rooms()
    {
        var paints = planned.Where(t => problem.Tasks[t].IsPaint).ToList();
        var rooms = paints
            .SelectMany(t => problem.Tasks[t].Places)
            .Select(p => problem.Places[p].Room)
            .Distinct(StringComparer.Ordinal);
        foreach (var room in rooms)
        {
            var others = planned.Where(t => !problem.Tasks[t].IsPaint && InRoom(t, room).Any()).ToList();
            var days = problem.Axis.Days.Where(d => d.FirstSlot < horizon).ToList();
            var isHot = hotRooms.Contains(room);
            var from = days.Select(
                    (d, i) =>
                        Model.NewIntVar(Math.Min(problem.PaintFrom(d, isHot), d.EndSlot), d.EndSlot, $"air.{room}.{i}")
                )
                .ToList();
            var mine = paints.Where(t => InRoom(t, room).Any()).ToList();
            foreach (var (day, i) in days.Select((d, i) => (d, i)))
            {
                derived.Add(
                    (
                        from[i],
                        e =>
                            mine.Select(t => e[t])
                                .Where(x => Within(x, room, day))
                                .Select(x => (long)x.Start)
                                .DefaultIfEmpty(day.EndSlot)
                                .Min()
                    )
                );
            }

            foreach (var t in mine)
            {
                var of = Model.NewIntVar(0, days.Count - 1, $"day{t}");
                var dayTable = Enumerable.Range(0, horizon).Select(s => (long)problem.Axis.DayIndexOf(s));
                Model.AddElement(vars[t].Start, dayTable, of);
                derived.Add((of, e => problem.Axis.DayIndexOf(e[t].Start)));
                var air = Model.NewIntVar(0, horizon, $"from{t}.{room}");
                Model.AddElement(of, from, air);
                derived.Add(
                    (
                        air,
                        e =>
                            mine.Select(m => e[m])
                                .Where(x => Within(x, room, problem.Axis.DayOf(e[t].Start)))
                                .Select(x => (long)x.Start)
                                .DefaultIfEmpty(problem.Axis.DayOf(e[t].Start).EndSlot)
                                .Min()
                    )
                );
                foreach (var (_, chosen) in InRoom(t, room))
                {
                    Model.Add(vars[t].Start >= air).OnlyEnforceIf(chosen);
                }
            }

            if (others.Count == 0)
            {
                continue;
            }

            var share = Model.AddCumulative(others.Count);
            foreach (var (day, i) in days.Select((d, i) => (d, i)))
            {
                var length = Model.NewIntVar(0, day.Slots, $"airlen.{room}.{i}");
                derived.Add(
                    (
                        length,
                        e =>
                            day.EndSlot
                            - mine.Select(t => e[t])
                                .Where(x => Within(x, room, day))
                                .Select(x => (long)x.Start)
                                .DefaultIfEmpty(day.EndSlot)
                                .Min()
                    )
                );
                share.AddDemand(
                    Model.NewIntervalVar(from[i], length, Model.NewConstant(day.EndSlot), $"paint.{room}.{i}"),
                    others.Count
                );
            }

            foreach (var t in others)
            {
                foreach (var (place, chosen) in InRoom(t, room))
                {
                    share.AddDemand(
                        When(t, chosen, $"air{t}.{place}", problem.Tasks[t].IsHot ? problem.FireWatchSlots : 0),
                        1
                    );
                }
            }
        }

        bool Within(PlanEntry entry, string room, WorkDay day) =>
            problem.Places[entry.Place].Room == room && entry.Start >= day.FirstSlot && entry.Start < day.EndSlot;
    }

    private IEnumerable<KeyValuePair<int, BoolVar>> InRoom(int t, string room) =>
        vars[t].Places.Where(p => problem.Places[p.Key].Room == room);
}
