using ShopFloor.Application.Common;
using ShopFloor.Application.Integrations;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Integrations;

public sealed class WebhookEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/webhooks", ListAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Addresses that are told of the history's lines, without their secrets.");
        api.MapPost("/webhooks", AddAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Adds an address; its secret is in this answer only.")
            .Produces<AddWebhook.Added>(StatusCodes.Status201Created);
        api.MapPut("/webhooks/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes a webhook, or turns it on or off.")
            .Produces<WebhookView>();
        api.MapDelete("/webhooks/{id:guid}", RemoveAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Removes a webhook.");
        api.MapPost("/webhooks/{id:guid}/secret", RenewAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Gives it another secret, which is in this answer only.")
            .Produces<AddWebhook.Added>();
        api.MapPost("/webhooks/{id:guid}/test", TestAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Posts a test to it at once.")
            .Produces<TestWebhook.Result>();
        api.MapGet("/webhooks/{id:guid}/deliveries", DeliveriesAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("How its deliveries went, newest first, 30 days back.");
        api.MapPost("/webhooks/deliveries/{id:guid}/repeat", RepeatAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Sends one line once more.");
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadWebhooks read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> AddAsync(ApiCall call, Body<Webhook.Details> body, AddWebhook add) =>
        (await add.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(w =>
            $"{EndpointScan.ApiPrefix}/webhooks/{w.Id}"
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<Webhook.Details> body,
        ChangeWebhook change
    ) => (await change.RunAsync(new WebhookId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RemoveAsync(Guid id, ApiCall call, RemoveWebhook remove) =>
        (await remove.RunAsync(new WebhookId(id), call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> RenewAsync(Guid id, ApiCall call, RenewWebhookSecret renew) =>
        (await renew.RunAsync(new WebhookId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> TestAsync(Guid id, ApiCall call, TestWebhook test) =>
        (await test.RunAsync(new WebhookId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> DeliveriesAsync(
        Guid id,
        ApiCall call,
        ReadWebhooks read,
        bool notTaken = false,
        int? page = null,
        int? pageSize = null
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.DeliveriesAsync(new WebhookId(id), notTaken, wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> RepeatAsync(Guid id, ApiCall call, ResendDelivery resend) =>
        (await resend.RunAsync(new WebhookDeliveryId(id), call.Envelope(), call.Cancellation)).ToNoContent();
}
