using System.Globalization;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>How a permit's state is shown: glyph and word, never colour alone.</summary>
internal static class PermitLook
{
    public static string Glyph(string state) =>
        state switch
        {
            "open" => "○",
            "hotWork" => "✷",
            "watch" => "◔",
            "watchOver" => "◉",
            _ => "✓",
        };

    public static string Word(string state) =>
        state switch
        {
            "open" => "Permit open",
            "hotWork" => "Hot work",
            "watch" => "Fire watch",
            "watchOver" => "Watch over, not confirmed",
            _ => "Closed",
        };

    /// <summary>Words of the person's own answer to a point.</summary>
    public static string Word(PointFinding? finding) =>
        finding switch
        {
            PointFinding.Done => "✓ so",
            PointFinding.Assessed => "✎ assessed",
            PointFinding.NotHere => "– not here",
            _ => "○ not looked at",
        };

    public static string Where(PermitView permit) =>
        permit.PlaceTitle + (permit.Car is { } car ? $" ({permit.JobNumber} {car})" : "");

    public static string Time(DateTimeOffset instant, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(instant, zone).ToString("ddd HH:mm", CultureInfo.InvariantCulture);

    public static string Iso(DateTimeOffset instant) => instant.ToString("O", CultureInfo.InvariantCulture);
}
