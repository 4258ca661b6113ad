using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Returns;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Returns;

public sealed class CarReturnEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/return", OneAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary(
                "What is needed to give back the car of a cancelled job: intake record, photos, the customer's parts, balance, the notice to be signed."
            )
            .Produces<CarReturnSheet>();
        api.MapPost("/jobs/{id:guid}/return", ReturnAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Records that the car of a cancelled job went back, unfinished, with its parts.")
            .Produces<CarReturnView>();
    }

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetCarReturn get) =>
        (await get.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ReturnAsync(
        Guid id,
        ApiCall call,
        Body<CarReturnInput> body,
        ReturnCar returnCar
    ) => (await returnCar.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
