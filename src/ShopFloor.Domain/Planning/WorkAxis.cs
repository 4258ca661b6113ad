using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>A span of time in which the shop is open.</summary>
public sealed record OpenSpan(DateTimeOffset From, DateTimeOffset To);

/// <summary>One local day on which the shop is open, with its quarter hours.</summary>
/// <param name="FirstSlot">Number of its first quarter hour on the axis.</param>
/// <param name="EndSlot">Number of the first quarter hour that is no longer its own.</param>
public sealed record WorkDay(DateOnly Day, int FirstSlot, int EndSlot)
{
    public int Slots => EndSlot - FirstSlot;
}

/// <summary>The shop's open time, cut into quarter hours and put end to end: nights, breaks and closed days take no room on it.</summary>
/// <remarks>
/// Plans count in these quarter hours, so that work which is paused overnight keeps its length. What goes on while the shop is closed (a cure) is
/// carried over by <see cref="SlotAtOrAfter"/>, by the clock. A quarter hour begins where a span begins, not on the hour.
/// </remarks>
public sealed class WorkAxis
{
    public const int SlotMinutes = 15;

    /// <summary>Longest look ahead, in days.</summary>
    public const int MostDays = 400;

    private readonly DateTimeOffset[] starts;
    private readonly int[] dayOf;

    private WorkAxis(DateTimeOffset[] starts, int[] dayOf, IReadOnlyList<WorkDay> days)
    {
        this.starts = starts;
        this.dayOf = dayOf;
        Days = days;
    }

    /// <summary>Only days with at least one quarter hour, in order.</summary>
    public IReadOnlyList<WorkDay> Days { get; }

    public int Slots => starts.Length;

    /// <summary>Puts the quarter hours of several days end to end; what lies before <paramref name="from"/> is left off.</summary>
    /// <param name="days">In rising order, each with its spans in rising order, none overlapping.</param>
    /// <exception cref="ArgumentException">Days or spans are not in order.</exception>
    public static WorkAxis Of(DateTimeOffset from, IEnumerable<(DateOnly Day, IReadOnlyList<OpenSpan> Spans)> days)
    {
        ArgumentNullException.ThrowIfNull(days);
        var starts = new List<DateTimeOffset>();
        var dayOf = new List<int>();
        var kept = new List<WorkDay>();
        var last = DateTimeOffset.MinValue;
        foreach (var (day, spans) in days)
        {
            var first = starts.Count;
            foreach (var span in spans)
            {
                if (span.From < last || span.To < span.From)
                {
                    throw new ArgumentException("Spans must follow one another.", nameof(days));
                }

                last = span.To;
                for (var at = span.From; at.AddMinutes(SlotMinutes) <= span.To; at = at.AddMinutes(SlotMinutes))
                {
                    if (at >= from)
                    {
                        starts.Add(at);
                        dayOf.Add(kept.Count);
                    }
                }
            }

            if (starts.Count > first)
            {
                kept.Add(new WorkDay(day, first, starts.Count));
            }
        }

        return new WorkAxis([.. starts], [.. dayOf], kept);
    }

    /// <summary>When a quarter hour begins.</summary>
    public DateTimeOffset StartOf(int slot) => starts[slot];

    /// <summary>When a piece of work ends whose first free quarter hour is <paramref name="end"/>: the end of the one before.</summary>
    public DateTimeOffset EndOf(int end) => end == 0 ? starts[0] : starts[end - 1].AddMinutes(SlotMinutes);

    public WorkDay DayOf(int slot) => Days[dayOf[slot]];

    /// <summary>Place in <see cref="Days"/> of a quarter hour's day.</summary>
    public int DayIndexOf(int slot) => dayOf[slot];

    /// <summary>The first quarter hour that begins at or after an instant; <see cref="Slots"/> where the axis ends before.</summary>
    public int SlotAtOrAfter(DateTimeOffset at)
    {
        var found = Array.BinarySearch(starts, at);
        return found >= 0 ? found : ~found;
    }

    /// <summary>The first quarter hour after a local day; 0 where the day lies before the axis, <see cref="Slots"/> where it lies after.</summary>
    public int EndOfDay(DateOnly day) => Days.LastOrDefault(d => d.Day <= day)?.EndSlot ?? 0;

    /// <summary>The first quarter hour on or after a local day.</summary>
    public int StartOfDay(DateOnly day) => Days.FirstOrDefault(d => d.Day >= day)?.FirstSlot ?? Slots;

    /// <summary>The first quarter hour at which something may go on that rests for a time, by the clock, after work that ends at <paramref name="end"/>.</summary>
    public int AfterRest(int end, int minutes) =>
        minutes == 0 ? end : Math.Max(end, SlotAtOrAfter(EndOf(end).AddMinutes(minutes)));
}
