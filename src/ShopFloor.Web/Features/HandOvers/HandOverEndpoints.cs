using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HandOvers;

public sealed class HandOverEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/hand-over", OneAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("What is needed to hand a car over: intake record, photos, balance, what is not done yet.")
            .Produces<HandOverSheet>();
        api.MapPost("/jobs/{id:guid}/hand-over", HandOverAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Hands the car over and closes the job.")
            .Produces<HandOverView>();
    }

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetHandOver get) =>
        (await get.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> HandOverAsync(
        Guid id,
        ApiCall call,
        Body<HandOverInput> body,
        HandOverCar handOver
    ) => (await handOver.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
