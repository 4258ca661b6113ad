using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Papers of the workbench for the API.</summary>
public sealed class BenchPaperApiEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api) =>
        api.MapGet("/workbench/{code}/papers/{file}", BenchPaperEndpoints.PaperAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "A paper or outline of a workbench calculator, such as notch/papers/wrap.pdf; its fields come in the query, unit is mm or in, size is a4 or letter."
            );
}

/// <summary>Papers of the workbench for people who are signed in.</summary>
public sealed class BenchPaperEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/workbench/{code}/papers/{file}", PaperAsync).RequirePermission(Permission.SeeFloor);

    internal static async Task<IResult> PaperAsync(
        string code,
        string file,
        string? size,
        HttpContext http,
        PrintBenchPaper print,
        CancellationToken ct
    ) =>
        await FileAsync(
            size,
            sheet => print.RunAsync(code, file, name => First(http, name), sheet, Actors.Of(http), ct)
        );

    /// <summary>A PDF is shown, to be printed; outlines are saved for the cutter.</summary>
    internal static async Task<IResult> FileAsync(string? size, Func<PaperSize?, Task<Outcome<BenchFile>>> print)
    {
        if (size is not (null or "a4" or "letter"))
        {
            return Failure.Field("size", "The sheet is 'a4' or 'letter'.").ToProblem();
        }

        PaperSize? sheet = size switch
        {
            "a4" => PaperSize.A4,
            "letter" => PaperSize.Letter,
            _ => null,
        };
        return (await print(sheet)).Match(
            f =>
                f.ContentType == "application/pdf"
                    ? Results.Bytes(f.Content, f.ContentType)
                    : Results.File(f.Content, f.ContentType, f.FileName),
            f => f.ToProblem()
        );
    }

    private static string? First(HttpContext http, string name) =>
        http.Request.Query.TryGetValue(name, out var values) && values.Count > 0 ? values[0] : null;
}
