using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Stock;

/// <summary>What to buy, suppliers, orders and what comes of them.</summary>
public sealed class BuyingEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet(
                "/stock/to-buy",
                async (ApiCall call, ReadStock read) => (await read.ToBuyAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("What falls below its level, by supplier, with why.")
            .Produces<IReadOnlyList<ToBuyList>>();
        api.MapGet(
                "/stock/value",
                async (ApiCall call, ReadStock read) => (await read.ValueAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Purchase cost of everything in the store.")
            .Produces<StockValue>();
        MapSuppliers(api);
        api.MapGet("/stock/orders", ListAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Orders, newest first (open=true: only those awaited).")
            .Produces<Page<StockOrderView>>();
        api.MapPost("/stock/orders", PlaceAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Writes down an order at a supplier.")
            .Produces<StockOrderView>(201);
        api.MapGet(
                "/stock/orders/{id:guid}",
                async (Guid id, ApiCall call, StockOrders orders) =>
                    (await orders.ReadAsync(StockOrderId.From(id), call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("One order with what has come of each line.")
            .Produces<StockOrderView>();
        api.MapPost("/stock/orders/{id:guid}/receive", ReceiveAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Some or all of a line has come: it gets a label.")
            .Produces<StockLotView>(201);
        api.MapPatch("/stock/orders/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Another day of delivery, or the rest is not awaited any more (closeReason).")
            .Produces<StockOrderView>();
    }

    private static void MapSuppliers(RouteGroupBuilder api)
    {
        api.MapGet(
                "/suppliers",
                async (ApiCall call, KeepSuppliers keep) =>
                    (await keep.ListAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Whom the shop buys from.")
            .Produces<IReadOnlyList<SupplierView>>();
        api.MapPost(
                "/suppliers",
                async (ApiCall call, Body<Supplier.Details> body, KeepSuppliers keep) =>
                    (await keep.AddAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(_ =>
                        $"{EndpointScan.ApiPrefix}/suppliers"
                    )
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Adds a supplier.")
            .Produces<SupplierView>(201);
        api.MapPut(
                "/suppliers/{id:guid}",
                async (Guid id, ApiCall call, Body<Supplier.Details> body, KeepSuppliers keep) =>
                    (
                        await keep.ChangeAsync(SupplierId.From(id), body.Value, call.Envelope(), call.Cancellation)
                    ).ToHttp()
            )
            .RequirePermission(Permission.BuyStock)
            .WithSummary("Changes a supplier, or says that nothing is bought there any more.")
            .Produces<SupplierView>();
    }

    private static async Task<IResult> ListAsync(
        ApiCall call,
        StockOrders orders,
        bool? open,
        int? page,
        int? pageSize
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await orders.ListAsync(open ?? false, wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> PlaceAsync(
        ApiCall call,
        Body<StockOrders.PlaceRequest> body,
        StockOrders orders
    ) =>
        (await orders.PlaceAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(o =>
            $"{EndpointScan.ApiPrefix}/stock/orders/{o.Id}"
        );

    private static async Task<IResult> ReceiveAsync(
        Guid id,
        ApiCall call,
        Body<StockOrders.ReceiveRequest> body,
        StockOrders orders
    ) =>
        (await orders.ReceiveAsync(StockOrderId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            l => $"{EndpointScan.ApiPrefix}/stock/lots/{l.Id}"
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<StockOrders.ChangeRequest> body,
        StockOrders orders
    ) => (await orders.ChangeAsync(StockOrderId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
