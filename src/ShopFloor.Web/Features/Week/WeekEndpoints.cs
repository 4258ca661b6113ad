using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Week;

public sealed class WeekEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/reports/week", ReportAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary(
                "The owner's figures for the seven days from a local day, or up to a last day; each with the rows behind it."
            )
            .Produces<WeekReportView>();
        api.MapGet("/reports/week/definitions", Definitions)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("What each figure of the owner's week means.")
            .Produces<IReadOnlyList<FigureDefinitionView>>();
        api.MapGet("/reports/week/tables/{code}", TableAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("The rows behind a figure as CSV; figures for all values, ribbons for the cars' ribbons.")
            .Produces(200, contentType: "text/csv");
        api.MapGet("/reports/week/pdf", PdfAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("The week's figures on paper (start, end, size).")
            .Produces(200, contentType: "application/pdf");
        api.MapGet("/reports/week/mail", MailAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("Whether the person who asks gets last week's figures by mail on Mondays.")
            .Produces<WeekMailView>();
        api.MapPut("/reports/week/mail", ChooseMailAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("Turns one's own mail with the week on or off and sets its hour (0 to 23, the shop's clock).")
            .Produces<WeekMailView>();
        api.MapPost("/reports/week/mail/send", SendMailAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("Sends the last week that is over to oneself at once.")
            .Produces<ChooseWeekMail.Asked>();
    }

    private static async Task<IResult> ReportAsync(ApiCall call, GetWeekReport report, string? start, string? end) =>
        !TryReadDay(start, out var first) ? NoDay("start")
        : !TryReadDay(end, out var last) ? NoDay("end")
        : (await report.RunAsync(first, last, call.Actor, call.Cancellation)).ToHttp();

    private static Task<IResult> PdfAsync(
        HttpContext http,
        PrintWeek print,
        string? start,
        string? end,
        string? size,
        CancellationToken ct
    ) => WeekTables.PaperAsync(http, print, start, end, size, ct);

    private static async Task<IResult> MailAsync(ApiCall call, ChooseWeekMail choose) =>
        (await choose.ReadAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChooseMailAsync(
        ApiCall call,
        Body<ChooseWeekMail.Request> body,
        ChooseWeekMail choose
    ) => (await choose.ChangeAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> SendMailAsync(ApiCall call, ChooseWeekMail choose) =>
        (await choose.SendNowAsync(call.Envelope(), call.Cancellation)).ToHttp();

    private static IResult Definitions() =>
        Results.Ok(
            FigureDefinitions.All.Select(d => new FigureDefinitionView(d.Code, d.Name, d.Unit, d.Sentence)).ToList()
        );

    private static Task<IResult> TableAsync(
        ApiCall call,
        ExportFigures export,
        string code,
        string? start,
        string? end
    ) => WeekTables.ServeAsync(code, start, end, call.Actor, export, call.Cancellation);

    internal static IResult NoDay(string path) =>
        Failure.Field(path, "Give the day as YYYY-MM-DD, such as 2026-03-02.").ToProblem();

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
