using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Forecast;

/// <summary>The longest piece in which an operation can be done: what a trial makes longer goes on in further pieces.</summary>
/// <remarks>
/// A plan asks that a person is there for the whole of an operation, and that some are done within a day. An operation whose planned length keeps to
/// that may take longer in a trial than anybody is ever there in a row; the shop then goes on the next day. The longest piece is the middle one (median) of the
/// stretches in which somebody who can do it is there, of days for what stays within a day, and never shorter than the planned length where that can be done.
/// </remarks>
internal static class PieceLimits
{
    public static int[] Of(PlanProblem problem)
    {
        var days = problem.People.Select(p => Stretches(problem.Axis, p, byDay: true)).ToList();
        var whole = problem.People.Select(p => Stretches(problem.Axis, p, byDay: false)).ToList();
        var hot = problem.HotRooms();
        return [.. problem.Tasks.Select(Limit)];

        int Limit(PlanTask task)
        {
            var of = task.StaysInDay ? days : whole;
            var quiet =
                task.IsPaint && task.Places.Any(p => hot.Contains(problem.Places[p].Room)) ? problem.FireWatchSlots : 0;
            var middle = task.People.Select(p => Middle(of[p]) - quiet).DefaultIfEmpty(0).Max();
            var longest = task.People.Select(p => of[p].DefaultIfEmpty(0).Max() - quiet).DefaultIfEmpty(0).Max();
            return Math.Max(1, Math.Max(middle, task.Slots <= longest ? task.Slots : 0));
        }
    }

    private static int Middle(List<int> lengths) =>
        lengths.Count == 0 ? 0 : lengths.Order().ElementAt(lengths.Count / 2);

    private static List<int> Stretches(WorkAxis axis, PlanPerson person, bool byDay)
    {
        var ends = byDay ? axis.Days.Select(d => d.EndSlot).ToList() : [axis.Slots];
        var found = new List<int>();
        var from = 0;
        var away = 0;
        foreach (var end in ends)
        {
            while (from < end)
            {
                while (away < person.Away.Count && person.Away[away].To <= from)
                {
                    away++;
                }

                var next = away < person.Away.Count ? person.Away[away] : (From: end, To: end);
                var until = Math.Clamp(next.From, from, end);
                if (until > from)
                {
                    found.Add(until - from);
                }

                from = until < end ? Math.Min(Math.Max(next.To, until + 1), end) : end;
            }
        }

        return found;
    }
}
