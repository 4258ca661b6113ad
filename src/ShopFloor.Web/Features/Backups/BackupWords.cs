using System.Globalization;
using ShopFloor.Application.Backups;
using ShopFloor.Domain.Backups;
using ShopFloor.Web.Features.Times;

namespace ShopFloor.Web.Features.Backups;

/// <summary>How backups are spoken of.</summary>
internal static class BackupWords
{
    public static string Of(BackupReason reason) =>
        reason switch
        {
            BackupReason.Daily => "Daily",
            BackupReason.Asked => "Asked for",
            _ => "Before an upgrade",
        };

    public static string ResultOf(BackupView backup) =>
        backup switch
        {
            { Failure: { } failure } => $"✕ {failure}",
            { FileName: { } name, IsLocked: true } => $"✓ {name} on {backup.Machine}, locked",
            { FileName: { } name } => $"✓ {name} on {backup.Machine}",
            _ => "… being made",
        };

    public static string StandingOf(BackupStanding standing, DateTimeOffset now) =>
        standing.LastGoodAt is { } last
            ? $"The last good backup is of {LocalTimes.Say(last, standing.Zone)}, {Ago(now - last)}."
        : standing.IsDaily ? "There is no backup of this shop yet."
        : "The program has made no backup of this shop.";

    /// <summary>In the largest unit that says enough.</summary>
    public static string Ago(TimeSpan age) =>
        age switch
        {
            { TotalMinutes: < 1 } => "just now",
            { TotalHours: < 1 } => Count((int)age.TotalMinutes, "minute"),
            { TotalDays: < 2 } => Count((int)age.TotalHours, "hour"),
            _ => Count((int)age.TotalDays, "day"),
        };

    public static string Size(long bytes) =>
        bytes < 1_000_000
            ? string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, bytes / 1000)} kB")
            : string.Create(CultureInfo.InvariantCulture, $"{bytes / 1_000_000.0:0.0} MB");

    private static string Count(int count, string unit) => $"{count} {unit}{(count == 1 ? "" : "s")} ago";
}
