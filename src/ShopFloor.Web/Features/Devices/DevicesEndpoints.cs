using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Devices;

/// <summary>The shop's tablets and PINs, for the owner. Enrolling and signing in by PIN are done on the tablet's own pages.</summary>
public sealed class DevicesEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/devices", ListAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The shop's tablets, also those that were ended.");
        api.MapPost("/devices/codes", CodeAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Makes a code with which one tablet is added within 15 minutes; it is in this answer only.")
            .Produces<MakeEnrolmentCode.Made>();
        api.MapDelete("/devices/{id:guid}", RevokeAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Ends a tablet: who is signed in on it by PIN is signed out.");
        api.MapGet("/pins", PinsAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Who has a PIN, and whose is locked; never the PINs.");
        api.MapPut("/people/{id:guid}/pin", SetAsync)
            .RequirePermission(Permission.SetOwnPin)
            .WithSummary("Sets a PIN, or takes it away where pin is null: one's own, or as the owner anybody's.");
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadDevices read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> CodeAsync(ApiCall call, MakeEnrolmentCode make) =>
        (await make.RunAsync(call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RevokeAsync(Guid id, ApiCall call, RevokeDevice revoke) =>
        (await revoke.RunAsync(new DeviceId(id), call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> PinsAsync(ApiCall call, ReadDevices read) =>
        (await read.PinsAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> SetAsync(Guid id, ApiCall call, Body<SetPin.Request> body, SetPin set) =>
        (await set.RunAsync(new PersonId(id), body.Value, call.Envelope(), call.Cancellation)).ToNoContent();
}
