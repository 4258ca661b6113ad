using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Diary;

/// <summary>The days on which a car stands in the shop, as far as they are known.</summary>
/// <param name="From">First day; null: nobody knows when it comes.</param>
/// <param name="Until">Last day; null: no day is promised or agreed.</param>
/// <param name="IsHere">It has come and not gone.</param>
public sealed record ShopStay(JobId Job, DateOnly? From, DateOnly? Until, bool IsHere)
{
    /// <summary>Whether it takes up room on a day. A car that should have gone stays at least until today; one that should have come is counted from today.</summary>
    public bool Covers(DateOnly day, DateOnly today)
    {
        if (From is not { } first)
        {
            return false;
        }

        if (!IsHere && first < today)
        {
            first = today;
        }

        // Without a last day, or with one that the car comes after, nothing is known but the day itself; a car that is here stays while nobody says otherwise.
        var last =
            Until is { } said && (IsHere || said >= first) ? said
            : IsHere ? DateOnly.MaxValue
            : first;
        var until = last < today && (IsHere || From <= today) ? today : last;
        return day >= first && day <= until;
    }
}

/// <summary>How full the shop is on a day.</summary>
/// <param name="IsOpen">Somebody works.</param>
/// <param name="Cars">Cars that stand in the shop or its yard.</param>
/// <param name="Holds">Cars that fit there; null where the shop has not said.</param>
/// <param name="People">People of the floor who are there.</param>
/// <param name="Minutes">Their hours.</param>
public sealed record DayCapacity(DateOnly Day, bool IsOpen, int Cars, int? Holds, int People, int Minutes)
{
    /// <summary>Cars that still fit; negative where more are expected; null where the shop has not said.</summary>
    public int? Room => Holds - Cars;
}

/// <summary>Counts cars against room and people by the day: what the front desk needs to know before it agrees on one, with or without a plan.</summary>
public static class ShopStays
{
    /// <param name="stays">Of all open jobs with a car.</param>
    /// <param name="holds">Cars that fit; null: not said.</param>
    /// <param name="there">Minutes of each person of the floor on a day.</param>
    /// <param name="from">First day.</param>
    /// <param name="days">Number of days.</param>
    /// <param name="today">By the shop's clock.</param>
    public static IReadOnlyList<DayCapacity> Count(
        IReadOnlyCollection<ShopStay> stays,
        int? holds,
        Func<DateOnly, IEnumerable<int>> there,
        DateOnly from,
        int days,
        DateOnly today
    )
    {
        ArgumentNullException.ThrowIfNull(there);
        return
        [
            .. Enumerable
                .Range(0, days)
                .Select(i =>
                {
                    var day = from.AddDays(i);
                    var minutes = there(day).Where(m => m > 0).ToList();
                    return new DayCapacity(
                        day,
                        minutes.Count > 0,
                        stays.Count(s => s.Covers(day, today)),
                        holds,
                        minutes.Count,
                        minutes.Sum()
                    );
                }),
        ];
    }
}
