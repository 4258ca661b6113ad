using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Stock;

/// <summary>Items of the store and the lots that lie in it.</summary>
public sealed class StockEndpoints : IApiEndpoints
{
    public sealed record CountBody(decimal? Counted = null, string? Reason = null);

    public sealed record RetireBody(bool? IsRetired = null);

    public static void Map(RouteGroupBuilder api)
    {
        MapItems(api);
        api.MapPost("/stock/lots", FoundAsync)
            .RequirePermission(Permission.KeepStock)
            .WithSummary("Writes down what lies in the store and had no label: it gets one.")
            .Produces<StockLotView>(201);
        api.MapGet("/stock/lots/{id:guid}", LotAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("One lot with its history, and the jobs from which some may come back.")
            .Produces<StockLotDetail>();
        Act(api, "use", (keep, id, body, env, ct) => keep.UseAsync(id, body, env, ct), "Takes some into a job.");
        Act(
            api,
            "put-back",
            (keep, id, body, env, ct) => keep.PutBackAsync(id, body, env, ct),
            "Some of what a job took comes back, at what it cost the job."
        );
        Act(api, "move", (keep, id, body, env, ct) => keep.MoveAsync(id, body, env, ct), "All or some lies elsewhere.");
        Act(
            api,
            "scrap",
            (keep, id, body, env, ct) => keep.ScrapAsync(id, body, env, ct),
            "Thrown away, with its reason."
        );
        Act(
            api,
            "send-back",
            (keep, id, body, env, ct) => keep.SendBackAsync(id, body, env, ct),
            "Sent back to the supplier, with its reason."
        );
        api.MapPost(
                "/stock/lots/{id:guid}/count",
                async (Guid id, ApiCall call, Body<CountBody> body, KeepLots keep) =>
                    (
                        await keep.CountAsync(
                            StockLotId.From(id),
                            body.Value.Counted,
                            body.Value.Reason,
                            call.Envelope(),
                            call.Cancellation
                        )
                    ).ToHttp()
            )
            .RequirePermission(Permission.KeepStock)
            .WithSummary("What was counted; a difference needs its reason and is written down as a correction.")
            .Produces<StockLotView>();
        api.MapGet("/stock/movements", MovementsAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("All that happened in the store, newest first (itemId).")
            .Produces<Page<StockMovementView>>();
    }

    private static void MapItems(RouteGroupBuilder api)
    {
        api.MapGet("/stock/items", ListAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary(
                "What the shop keeps in store, with what there is, set aside and ordered (kind, search, retired)."
            )
            .Produces<Page<StockItemView>>();
        api.MapPost("/stock/items", AddAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Adds something to be kept in store.")
            .Produces<StockItemView>(201);
        api.MapGet("/stock/items/{id:guid}", ItemAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("One item with its lots and what is set aside of it.")
            .Produces<StockItemDetail>();
        api.MapPut("/stock/items/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Changes an item; kind, measure and size stay once there is stock of it.")
            .Produces<StockItemView>();
        api.MapPost("/stock/items/{id:guid}/retire", RetireAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Takes an item off the lists, or puts it back on.")
            .Produces<StockItemView>();
        api.MapPost("/stock/items/{id:guid}/reserve", ReserveAsync)
            .RequirePermission(Permission.KeepStock)
            .WithSummary("Sets so much in all aside for a job; 0 lets go of it.")
            .Produces<StockItemView>();
    }

    private static void Act(
        RouteGroupBuilder api,
        string word,
        Func<KeepLots, StockLotId, KeepLots.Request, Envelope, CancellationToken, Task<Outcome<StockLotView>>> act,
        string summary
    ) =>
        api.MapPost(
                $"/stock/lots/{{id:guid}}/{word}",
                async (Guid id, ApiCall call, Body<KeepLots.Request> body, KeepLots keep) =>
                    (await act(keep, StockLotId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.KeepStock)
            .WithSummary(summary)
            .Produces<StockLotView>();

    private static async Task<IResult> ListAsync(
        ApiCall call,
        ReadStock read,
        string? kind,
        string? search,
        bool? retired,
        int? page,
        int? pageSize
    )
    {
        StockKind? of = null;
        if (kind is not null)
        {
            if (!EnumWords.Of(typeof(StockKind)).Contains(kind))
            {
                return Failure
                    .Field("kind", $"The kind is one of {string.Join(", ", EnumWords.Of(typeof(StockKind)))}.")
                    .ToProblem();
            }

            of = Enum.Parse<StockKind>(kind, ignoreCase: true);
        }

        if (search?.Length > TextRules.Name)
        {
            return Failure.Field("search", $"At most {TextRules.Name} characters are searched for.").ToProblem();
        }

        var filter = new ReadStock.Filter(of, search, retired ?? false);
        return PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.ListAsync(filter, wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();
    }

    private static async Task<IResult> AddAsync(ApiCall call, Body<StockItem.Details> body, KeepStockItems keep) =>
        (await keep.AddAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(i =>
            $"{EndpointScan.ApiPrefix}/stock/items/{i.Id}"
        );

    private static async Task<IResult> ItemAsync(Guid id, ApiCall call, ReadStock read) =>
        (await read.ItemAsync(StockItemId.From(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<StockItem.Details> body,
        KeepStockItems keep
    ) => (await keep.ChangeAsync(StockItemId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RetireAsync(Guid id, ApiCall call, Body<RetireBody> body, KeepStockItems keep) =>
        body.Value.IsRetired is { } isRetired
            ? (await keep.RetireAsync(StockItemId.From(id), isRetired, call.Envelope(), call.Cancellation)).ToHttp()
            : Failure.Field("isRetired", "Say true to take it off the lists, false to put it back on.").ToProblem();

    private static async Task<IResult> ReserveAsync(
        Guid id,
        ApiCall call,
        Body<ReserveStock.Request> body,
        ReserveStock reserve
    ) => (await reserve.RunAsync(StockItemId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> FoundAsync(
        ApiCall call,
        Body<ReceiveStock.Request> body,
        ReceiveStock receive
    ) =>
        (await receive.FoundAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(l =>
            $"{EndpointScan.ApiPrefix}/stock/lots/{l.Id}"
        );

    private static async Task<IResult> LotAsync(Guid id, ApiCall call, ReadStock read) =>
        (await read.LotAsync(StockLotId.From(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> MovementsAsync(
        ApiCall call,
        ReadStock read,
        Guid? itemId,
        int? page,
        int? pageSize
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (
                await read.MovementsAsync(
                    itemId is { } id ? StockItemId.From(id) : null,
                    wanted,
                    call.Actor,
                    call.Cancellation
                )
            ).ToHttp()
            : failure.ToProblem();
}
