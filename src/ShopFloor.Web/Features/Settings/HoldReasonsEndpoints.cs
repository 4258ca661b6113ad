using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Settings;

/// <summary>The shop's reasons for a hold.</summary>
public sealed class HoldReasonsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/hold-reasons", OfferedAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Reasons for a hold as they are offered on the floor, \"other\" last.");
        api.MapGet("/shop/hold-reasons", AllAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The shop's whole list, retired ones too.")
            .Produces<HoldReasonsView>();
        api.MapPut("/shop/hold-reasons", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Replaces the list; holds that stand keep their words.")
            .Produces<HoldReasonsView>();
    }

    private static async Task<IResult> OfferedAsync(ApiCall call, ReadHoldReasons read) =>
        (await read.OfferedAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> AllAsync(ApiCall call, ReadHoldReasons read) =>
        (await read.AllAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(
        ApiCall call,
        Body<ChangeHoldReasons.Request> body,
        ChangeHoldReasons change
    ) => (await change.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
