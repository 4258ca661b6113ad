using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Times;

/// <summary>Times as the forms of the office show and take them: by the shop's clock, to the minute.</summary>
internal static class LocalTimes
{
    private const string Form = "yyyy-MM-dd'T'HH:mm";

    /// <summary>For an input of the sort <c>datetime-local</c>.</summary>
    public static string Input(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString(Form, CultureInfo.InvariantCulture);

    /// <summary>Null where nothing, or no time, was typed.</summary>
    public static DateTimeOffset? Read(string? text, TimeZoneInfo zone) =>
        DateTime.TryParseExact(
            text?.Length > 16 ? text[..16] : text,
            Form,
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var local
        )
            ? LocalClock.InstantOf(zone, DateOnly.FromDateTime(local), TimeOnly.FromDateTime(local))
            : null;

    public static string Say(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Since when something goes on: the time of day alone today, with the day before that.</summary>
    public static string Since(DateTimeOffset at, DateTimeOffset now, TimeZoneInfo zone)
    {
        var (local, today) = (TimeZoneInfo.ConvertTime(at, zone), TimeZoneInfo.ConvertTime(now, zone));
        return local.ToString(local.Date == today.Date ? "HH:mm" : "ddd d MMM HH:mm", CultureInfo.InvariantCulture);
    }

    public static string Hours(long minutes) => $"{minutes / 60}:{minutes % 60:00} h";
}
