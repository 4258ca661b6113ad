using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>The register of measuring instruments.</summary>
public sealed class InstrumentEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/instruments", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Measuring instruments with uncertainty and calibration due date; those in use first.")
            .Produces<IReadOnlyList<InstrumentView>>();
        api.MapPost("/instruments", AddAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Adds an instrument to the register.")
            .Produces<InstrumentView>(201);
        api.MapPut("/instruments/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes an instrument, its calibration due date among it; readings taken with it stay.")
            .Produces<InstrumentView>();
        api.MapPost("/instruments/{id:guid}/retire", RetireAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The instrument is out of use: nothing passes by it any more.")
            .Produces<InstrumentView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadInstruments read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AddAsync(
        ApiCall call,
        Body<KeepInstruments.Request> body,
        KeepInstruments keep
    ) =>
        (await keep.AddAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(i =>
            $"{EndpointScan.ApiPrefix}/instruments#{i.Id}"
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<KeepInstruments.Request> body,
        KeepInstruments keep
    ) => (await keep.ChangeAsync(InstrumentId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RetireAsync(Guid id, ApiCall call, KeepInstruments keep) =>
        (await keep.RetireAsync(InstrumentId.From(id), call.Envelope(), call.Cancellation)).ToHttp();
}
