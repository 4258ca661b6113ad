namespace ShopFloor.Domain.Planning;

/// <summary>What is planned in one room, by day, so far as paint and everything else keep out of each other's way.</summary>
internal sealed class RoomAir(PlanProblem problem, bool isHot)
{
    private readonly int[] quietFrom = new int[problem.Axis.Days.Count];
    private readonly int[] paintFrom = Filled(problem.Axis.Days.Count);
    private readonly List<PlanEntry> entries = [];

    public void Add(PlanEntry entry)
    {
        entries.Add(entry);
        Mark(entry);
    }

    public void Remove(PlanEntry entry)
    {
        entries.Remove(entry);
        Array.Clear(quietFrom);
        Array.Fill(paintFrom, int.MaxValue);
        entries.ForEach(Mark);
    }

    public void Clear()
    {
        entries.Clear();
        Array.Clear(quietFrom);
        Array.Fill(paintFrom, int.MaxValue);
    }

    /// <summary>The first quarter hour, not before a start, at which the air could be clear; the start itself where it is.</summary>
    public int ClearFrom(PlanTask task, int start, int slots)
    {
        var axis = problem.Axis;
        var first = axis.DayIndexOf(start);
        if (task.IsPaint)
        {
            var from = problem.PaintFrom(axis.Days[first], isHot);
            return start < from ? from
                : start < quietFrom[first] ? Math.Min(quietFrom[first], axis.Days[first].EndSlot)
                : start;
        }

        var watched = Watched(task, start + slots);
        for (var day = axis.DayIndexOf(start + slots - 1); day >= first; day--)
        {
            if (watched > paintFrom[day])
            {
                return axis.Days[day].EndSlot;
            }
        }

        return start;
    }

    private void Mark(PlanEntry entry)
    {
        var task = problem.Tasks[entry.Task];
        var first = problem.Axis.DayIndexOf(entry.Start);
        if (task.IsPaint)
        {
            paintFrom[first] = Math.Min(paintFrom[first], entry.Start);
            return;
        }

        var watched = Watched(task, entry.End);
        for (var day = first; day <= problem.Axis.DayIndexOf(entry.End - 1); day++)
        {
            quietFrom[day] = Math.Max(quietFrom[day], watched);
        }
    }

    private int Watched(PlanTask task, int end) => end + (task.IsHot ? problem.FireWatchSlots : 0);

    private static int[] Filled(int count)
    {
        var all = new int[count];
        Array.Fill(all, int.MaxValue);
        return all;
    }
}
