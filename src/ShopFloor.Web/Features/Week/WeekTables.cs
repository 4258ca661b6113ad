using System.Text;
using ShopFloor.Application.Common;
using ShopFloor.Application.Throughput;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Week;

/// <summary>The tables of the week as files, for people who are signed in.</summary>
public sealed class WeekTables : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/week/tables/{code}", DownloadAsync)
            .RequirePermission(Permission.SeeFigures)
            .ExcludeFromDescription();
        app.MapGet("/week/pdf", PaperAsync).RequirePermission(Permission.SeeFigures).ExcludeFromDescription();
    }

    internal static async Task<IResult> PaperAsync(
        HttpContext http,
        PrintWeek print,
        string? start,
        string? end,
        string? size,
        CancellationToken ct
    ) =>
        !WeekEndpoints.TryReadDay(start, out var first) ? WeekEndpoints.NoDay("start")
        : !WeekEndpoints.TryReadDay(end, out var last) ? WeekEndpoints.NoDay("end")
        : await PaperEndpoints.FileAsync(size, s => print.RunAsync(first, last, s, Actors.Of(http), ct));

    private static Task<IResult> DownloadAsync(
        HttpContext http,
        ExportFigures export,
        string code,
        string? start,
        string? end
    ) => ServeAsync(code, start, end, Actors.Of(http), export, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(
        string code,
        string? start,
        string? end,
        Actor actor,
        ExportFigures export,
        CancellationToken ct
    ) =>
        !WeekEndpoints.TryReadDay(start, out var first) ? WeekEndpoints.NoDay("start")
        : !WeekEndpoints.TryReadDay(end, out var last) ? WeekEndpoints.NoDay("end")
        : (await export.RunAsync(code, first, last, actor, ct)).Match(
            f => new PrivateFile(Encoding.UTF8.GetBytes(f.Content), "text/csv; charset=utf-8", f.Name),
            f => f.ToProblem()
        );
}
