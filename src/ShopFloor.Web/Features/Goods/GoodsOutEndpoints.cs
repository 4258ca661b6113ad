using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Goods;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Goods;

public sealed class GoodsOutEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/goods-out", OneAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("What is needed to let a kit or a part go: balance, what is not done yet, how it went out.")
            .Produces<GoodsOutSheet>();
        api.MapPost("/jobs/{id:guid}/goods-out", HandOutAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Records how a kit or a part went out (sent or collected) and closes the job.")
            .Produces<GoodsOutView>();
    }

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetGoodsOut get) =>
        (await get.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> HandOutAsync(
        Guid id,
        ApiCall call,
        Body<GoodsOutInput> body,
        HandOutGoods handOut
    ) => (await handOut.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
