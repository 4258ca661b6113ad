using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Application.SignIns;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.People;

public sealed class PeopleEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/people", ListAsync).RequirePermission(Permission.RunShop).WithSummary("Who works here.");
        api.MapPost("/people", AddAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Gives a person a sign-in.");
        api.MapPut("/people/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Changes roles, password, or whether they work here.");
        api.MapPost("/people/invitations", InviteAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Adds a person who chooses their password by the link whose secret is in this answer only.")
            .Produces<MakePasswordLink.Made>();
        api.MapPost("/people/{id:guid}/password-links", LinkAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Makes a link for a new password; its secret is in this answer only.")
            .Produces<MakePasswordLink.Made>();
        api.MapGet("/api-keys", KeysAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Keys, without the keys themselves.");
        api.MapPost("/api-keys", CreateKeyAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Makes a key; it is in this answer only.");
        api.MapDelete("/api-keys/{id:guid}", RevokeKeyAsync)
            .RequirePermission(Permission.KeepAccess)
            .WithSummary("Revokes a key.");
        api.MapGet("/shop", ShopAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The shop's settings.")
            .Produces<ShopView>();
        api.MapPut("/shop", ChangeShopAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes the shop's settings.")
            .Produces<ShopView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadPeople read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> AddAsync(ApiCall call, Body<AddPerson.Request> body, AddPerson add) =>
        (await add.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            id => $"{EndpointScan.ApiPrefix}/people/{id}",
            id => new { id }
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<ChangePerson.Request> body,
        ChangePerson change
    ) => (await change.RunAsync(new PersonId(id), body.Value, call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> InviteAsync(ApiCall call, Body<AddPerson.Request> body, AddPerson add) =>
        (await add.InviteAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> LinkAsync(Guid id, ApiCall call, MakePasswordLink make) =>
        (await make.RunAsync(new PersonId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> KeysAsync(ApiCall call, ReadPeople read) =>
        (await read.KeysAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> CreateKeyAsync(
        ApiCall call,
        Body<CreateApiKey.Request> body,
        CreateApiKey create
    ) =>
        (await create.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(k =>
            $"{EndpointScan.ApiPrefix}/api-keys/{k.Id}"
        );

    private static async Task<IResult> RevokeKeyAsync(Guid id, ApiCall call, RevokeApiKey revoke) =>
        (await revoke.RunAsync(new ApiKeyId(id), call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> ShopAsync(ApiCall call, ReadShop read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeShopAsync(ApiCall call, Body<Shop.Details> body, ChangeShop change) =>
        (await change.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
