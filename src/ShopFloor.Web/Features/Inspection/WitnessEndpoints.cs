using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>Witness points: what waits to be attended, and who attended it.</summary>
public sealed class WitnessEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/witness-points", WaitingAsync)
            .RequirePermission(Permission.SignOff)
            .WithSummary("Witness points of open jobs of which notice was given and which nobody has marked yet.");
        api.MapGet("/jobs/{id:guid}/witness-points", OfJobAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("A job's witness points of which notice was given, with who attended them.");
        api.MapPost("/jobs/{id:guid}/witness-points/{operation}", MarkAsync)
            .RequirePermission(Permission.SignOff)
            .WithSummary(
                "Says who attended: witnessedByPerson, witnessedByCustomer or notAttended. The work never waits for it."
            )
            .Produces<WitnessPointView>();
    }

    private static async Task<IResult> WaitingAsync(ApiCall call, ReadWitnessPoints read) =>
        (await read.WaitingAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OfJobAsync(Guid id, ApiCall call, ReadWitnessPoints read) =>
        (await read.OfJobAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> MarkAsync(
        Guid id,
        string operation,
        ApiCall call,
        Body<MarkWitnessPoint.Request> body,
        MarkWitnessPoint mark
    ) => (await mark.RunAsync(new JobId(id), operation, body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
