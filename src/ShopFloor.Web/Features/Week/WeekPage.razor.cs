using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Week;

/// <summary>The owner's Monday morning: the days asked for in figures, each with its meaning and the rows behind it.</summary>
public partial class WeekPage(GetWeekReport get, ReadPlan readPlan, ShopHead head)
{
    private WeekReportView? report;
    private PlanView? plan;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    /// <summary>First day as YYYY-MM-DD; absent: this week's Monday.</summary>
    [SupplyParameterFromQuery]
    public string? Start { get; set; }

    /// <summary>Last day as YYYY-MM-DD; absent: the seventh.</summary>
    [SupplyParameterFromQuery]
    public string? End { get; set; }

    private (string? Start, string? End)? loaded;

    private int Length => report is null ? ShopWeek.Days : report.End.DayNumber - report.Start.DayNumber + 1;

    /// <summary>First day of the month in which the range begins.</summary>
    private DateOnly Month => new(First.Year, First.Month, 1);

    private DateTimeOffset FromAt => LocalClock.InstantOf(zone, report!.Start, TimeOnly.MinValue);

    private FigureView Of(FigureDefinition definition) => report!.Figures.Single(f => f.Code == definition.Code);

    private string FileOf(string table) => $"week/tables/{table}?start={Day(report!.Start)}&end={Day(report.End)}";

    private DateOnly First =>
        report?.Start
        ?? (WeekEndpoints.TryReadDay(Start, out var day) && day is { } d ? d : GetWeekReport.Earliest.AddDays(7));

    private string Heading => report is null ? "Week" : WeekWords.Days(report);

    protected override async Task OnParametersSetAsync()
    {
        // Previous and next change the address only; the first load is the base class's.
        if (!IsLoading && loaded != (Start, End))
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        loaded = (Start, End);
        if (!WeekEndpoints.TryReadDay(Start, out var day))
        {
            return Failure.Field("start", $"'{Start}' is no day. Take one of the links above.");
        }

        if (!WeekEndpoints.TryReadDay(End, out var last))
        {
            return Failure.Field("end", $"'{End}' is no day. Take one of the links above.");
        }

        var outcome = await get.RunAsync(day, last, Actor, Closing);
        report = outcome.IsSuccess ? outcome.Value : null;
        plan = report is { IsEmpty: false } ? await PlanAsync(report) : null;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    /// <summary>The plan that stands, beside the days of this week and the last only: it is of the weeks to come.</summary>
    private async Task<PlanView?> PlanAsync(WeekReportView days) =>
        (days.IsOver && days.End.AddDays(ShopWeek.Days) < days.Today) || !Actor.May(Permission.SeeOffice) ? null
        : (await readPlan.RunAsync(Actor, Closing)) is { IsSuccess: true } outcome ? outcome.Value
        : null;

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

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
