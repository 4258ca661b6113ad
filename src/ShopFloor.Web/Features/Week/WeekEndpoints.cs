using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Week;

public sealed class WeekEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api) =>
        api.MapGet("/reports/week", ReportAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("The owner's figures for the seven days from a local day; each with the jobs behind it.")
            .Produces<WeekReportView>();

    private static async Task<IResult> ReportAsync(ApiCall call, GetWeekReport report, string? start)
    {
        if (!TryReadDay(start, out var day))
        {
            return Failure.Field("start", $"Give the first day as YYYY-MM-DD, such as 2026-03-02.").ToProblem();
        }

        return (await report.RunAsync(day, call.Actor, call.Cancellation)).ToHttp();
    }

    /// <summary>A day as <c>2026-03-02</c>; absent is taken, anything else not.</summary>
    public static bool TryReadDay(string? text, out DateOnly? day)
    {
        day = null;
        if (string.IsNullOrEmpty(text))
        {
            return true;
        }

        var isDay = DateOnly.TryParseExact(
            text,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var read
        );
        day = isDay ? read : null;
        return isDay;
    }
}
