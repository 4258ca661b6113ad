using System.Text.Json.Serialization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Solving;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Calculators;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Nesting as a calculator: nothing is stored.</summary>
public sealed class NestEndpoint : IApiEndpoints
{
    public sealed record StockBody([property: JsonConverter(typeof(ExactDecimal))] decimal? LengthMm, int? Quantity);

    public sealed record PieceBody(
        string? Label,
        [property: JsonConverter(typeof(ExactDecimal))] decimal? LengthMm,
        int? Quantity
    );

    public sealed record NestBody(
        [property: AtMost(NestProblem.MostStocks)] IReadOnlyList<StockBody?>? Stock,
        [property: AtMost(NestProblem.MostPieces)] IReadOnlyList<PieceBody?>? Pieces,
        [property: JsonConverter(typeof(ExactDecimal))] decimal? KerfMm,
        [property: JsonConverter(typeof(ExactDecimal))] decimal? EndTrimMm,
        int? TimeLimitSeconds
    );

    public sealed record Nest(
        IReadOnlyList<NestBar> Bars,
        int BarsUsed,
        decimal StockUsedMm,
        int LowerBoundBars,
        decimal LowerBoundStockMm,
        bool IsProvenOptimal
    );

    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/nest", RunAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Lays pieces into bars: least stock length, among those fewest bars; nothing is stored.")
            .Produces<Nest>();

    private static async Task<IResult> RunAsync(ApiCall call, Body<NestBody> body, WorkOutNest use, HttpContext context)
    {
        var limits = new SolveLimits(body.Value.TimeLimitSeconds ?? SolveLimits.UsualSeconds);
        if (!Read(body.Value, limits).TryGet(out var problem, out var failure))
        {
            return failure.ToProblem();
        }

        var run = await use.RunAsync(problem, limits, null, call.Cancellation);
        return run.ToHttp(
            context,
            result =>
                result switch
                {
                    NestResult.Found(var a) => Results.Ok(
                        new Nest(
                            a.Bars,
                            a.BarsUsed,
                            a.StockUsedMm,
                            a.LowerBoundBars,
                            a.LowerBoundStockMm,
                            a.IsProvenOptimal
                        )
                    ),
                    NestResult.Impossible => NestProblem.TooLittleStock().ToProblem(),
                    _ => SolverAnswers.NotInTime(
                        $"In {limits.Seconds} seconds neither a way to lay the pieces into this limited stock was found nor a proof that there is none. Allow more time, or add a bar."
                    ),
                }
        );
    }

    private static Outcome<NestProblem> Read(NestBody body, SolveLimits limits)
    {
        var errors = new FieldErrors();
        errors.AddIf(body.Stock is null, "stock", "Name the stock to cut from.");
        errors.AddIf(body.Pieces is null, "pieces", "Name the pieces; an empty list means none.");
        SolveLimits.CheckSeconds(limits.Seconds, "timeLimitSeconds", errors);
        List<NestStock> stock =
        [
            .. (body.Stock ?? [])
                .Take(NestProblem.MostStocks + 1)
                .Select(
                    (s, i) =>
                        new NestStock(Length(s?.LengthMm, $"stock[{i}].lengthMm", "The stock's length"), s?.Quantity)
                ),
        ];
        List<NestPiece> pieces =
        [
            .. (body.Pieces ?? []).Take(NestProblem.MostPieces + 1).Select((p, i) => Piece(p, $"pieces[{i}]")),
        ];
        return errors.Any
            ? errors.ToFailure()
            : NestProblem.Create(new NestRequest(stock, pieces, body.KerfMm ?? 0, body.EndTrimMm ?? 0));

        NestPiece Piece(PieceBody? piece, string path)
        {
            errors.AddIf(piece?.Label is null, path + ".label", "The piece's label is needed.");
            errors.AddIf(piece?.Quantity is null, path + ".quantity", "The number of pieces is needed.");
            return new NestPiece(
                piece?.Label ?? "",
                Length(piece?.LengthMm, path + ".lengthMm", "The piece's length"),
                piece?.Quantity ?? 1
            );
        }

        decimal Length(decimal? mm, string path, string label)
        {
            errors.AddIf(mm is null, path, $"{label} is needed.");
            return mm ?? 1;
        }
    }
}
