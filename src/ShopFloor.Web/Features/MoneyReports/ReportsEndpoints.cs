using System.Text;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Week;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.MoneyReports;

public sealed class ReportsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/reports/day", DayAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("A local day's money by way to pay; with the counts where it is closed. Without day: today.")
            .Produces<DayView>();
        api.MapPost("/reports/day/close", CloseAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Closes a day with what was counted; nothing is booked on it any more.")
            .Produces<DayView>();
        api.MapGet("/reports/tax", TaxAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("Tax by rate from invoices and credit notes issued from a day to a day.")
            .Produces<TaxReport>();
        api.MapGet("/reports/journal", JournalAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("All postings from a day to a day as CSV, one row each.")
            .Produces(200, contentType: "text/csv");
    }

    private static async Task<IResult> DayAsync(ApiCall call, GetDay get, string? day) =>
        WeekEndpoints.TryReadDay(day, out var on)
            ? (await get.RunAsync(on, call.Actor, call.Cancellation)).ToHttp()
            : NoDay("day");

    private static async Task<IResult> CloseAsync(ApiCall call, Body<CloseDay.Request> body, CloseDay close) =>
        (await close.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> TaxAsync(ApiCall call, GetTaxReport get, string? from, string? to) =>
        !WeekEndpoints.TryReadDay(from, out var first) ? NoDay("from")
        : !WeekEndpoints.TryReadDay(to, out var last) ? NoDay("to")
        : (await get.RunAsync(first, last, call.Actor, call.Cancellation)).ToHttp();

    private static Task<IResult> JournalAsync(ApiCall call, ExportJournal export, string? from, string? to) =>
        JournalDownload.ServeAsync(from, to, call.Actor, export, call.Cancellation);

    internal static IResult NoDay(string path) =>
        Failure.Field(path, "Give the day as YYYY-MM-DD, such as 2026-03-02.").ToProblem();
}

/// <summary>The journal for people who are signed in.</summary>
public sealed class JournalDownload : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/money/journal.csv", DownloadAsync)
            .RequirePermission(Permission.SeeFigures)
            .ExcludeFromDescription();

    private static Task<IResult> DownloadAsync(HttpContext http, ExportJournal export, string? from, string? to) =>
        ServeAsync(from, to, Actors.Of(http), export, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(
        string? from,
        string? to,
        Actor actor,
        ExportJournal export,
        CancellationToken ct
    )
    {
        if (!WeekEndpoints.TryReadDay(from, out var first))
        {
            return ReportsEndpoints.NoDay("from");
        }

        if (!WeekEndpoints.TryReadDay(to, out var last))
        {
            return ReportsEndpoints.NoDay("to");
        }

        return (await export.RunAsync(first, last, actor, ct)).Match(
            f => new PrivateFile(Encoding.UTF8.GetBytes(f.Content), "text/csv; charset=utf-8", f.Name),
            f => f.ToProblem()
        );
    }
}
