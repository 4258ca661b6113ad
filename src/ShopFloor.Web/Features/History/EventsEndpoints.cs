using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.History;

public sealed class EventsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api) =>
        api.MapGet("/events", AfterAsync)
            .RequirePermission(Permission.SeeHistory)
            .WithSummary("The append-only log after a sequence number, in commit order, at most 500 lines.");

    private static async Task<IResult> AfterAsync(ApiCall call, ReadEvents read, long after = 0) =>
        after < 0
            ? Failure.Field("after", "The sequence number is 0 or more.").ToProblem()
            : (await read.AfterAsync(after, call.Actor, call.Cancellation)).ToHttp(items => new { items });
}
