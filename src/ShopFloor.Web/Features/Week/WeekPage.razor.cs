using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Week;

/// <summary>The owner's Monday morning: seven days in five figures, each with the cars behind it.</summary>
public partial class WeekPage(GetWeekReport get, ShopHead head)
{
    private WeekReportView? report;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    /// <summary>First day as YYYY-MM-DD; absent: this week's Monday.</summary>
    [SupplyParameterFromQuery]
    public string? Start { get; set; }

    private string? loadedStart;

    private DateOnly First =>
        report?.Start
        ?? (WeekEndpoints.TryReadDay(Start, out var day) && day is { } d ? d : GetWeekReport.Earliest.AddDays(7));

    private string Heading =>
        report is null
            ? "Week"
            : $"{report.Start.ToString("d MMM", CultureInfo.InvariantCulture)} to {report.End.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}";

    private string FinishedNote =>
        report is { CarsFinished.Count: > 0 }
            ? $"estimated {H(report.CarsFinished.HoursEstimated)} h, took {H(report.CarsFinished.HoursLogged)} h"
            : "signed off in these days";

    protected override async Task OnParametersSetAsync()
    {
        // Previous and next change the address only; the first load is the base class's.
        if (!IsLoading && loadedStart != Start)
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        loadedStart = Start;
        if (!WeekEndpoints.TryReadDay(Start, out var day))
        {
            return Failure.Field("start", $"'{Start}' is no day. Take one of the links above.");
        }

        var outcome = await get.RunAsync(day, Actor, Closing);
        report = outcome.IsSuccess ? outcome.Value : null;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId is not null;

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM, HH:mm", CultureInfo.InvariantCulture);

    private string Span(BlockedRow row) =>
        (row.Since, row.Until) switch
        {
            (null, _) => "now",
            ({ } since, null) => $"{Local(since)}, still",
            ({ } since, { } until) => $"{Local(since)} to {Local(until)}",
        };

    private string Amount(long minor) =>
        new Money(minor, Currency.Of(report!.Currency)).ToString(CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string H(decimal hours) => hours.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Signed(decimal hours) => hours.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture);
}
