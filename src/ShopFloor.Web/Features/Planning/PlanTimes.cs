using System.Globalization;

namespace ShopFloor.Web.Features.Planning;

/// <summary>Days and times as the plan's pages say them.</summary>
internal static class PlanTimes
{
    public static string Day(DateOnly day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);

    public static string LongDay(DateOnly day) => day.ToString("dddd d MMMM", CultureInfo.InvariantCulture);

    public static string Clock(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>"2 days late", "on its day", "3 days to spare", "no promise".</summary>
    public static string Standing(int? daysLate) =>
        daysLate switch
        {
            null => "no promise",
            0 => "on its day",
            1 => "1 day late",
            > 1 => $"{daysLate} days late",
            -1 => "1 day to spare",
            _ => $"{-daysLate} days to spare",
        };

    /// <summary>How pressing, in words.</summary>
    public static string Weight(int weight) =>
        weight switch
        {
            1 => "can wait",
            2 => "usual",
            3 => "soon",
            4 => "pressing",
            _ => "most pressing",
        };
}
