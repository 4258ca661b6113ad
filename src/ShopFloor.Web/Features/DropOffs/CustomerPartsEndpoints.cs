using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.DropOffs;

public sealed class CustomerPartsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/customer-parts", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("What the customer brings for a job, by the day it is due.");
        api.MapPost("/jobs/{id:guid}/customer-parts", PromiseAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Notes something the customer will bring, and when.")
            .Produces<CustomerPartView>(201);
        api.MapPut("/customer-parts/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Another name or day for a part that is still awaited.")
            .Produces<CustomerPartView>();
        api.MapPost("/customer-parts/{id:guid}/arrive", ArriveAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("The part is here.")
            .Produces<CustomerPartView>();
        api.MapPost("/customer-parts/{id:guid}/drop", DropAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("The part is not coming any more; nothing waits for it.")
            .Produces<CustomerPartView>();
    }

    /// <summary>A command without further content.</summary>
    public sealed record Tap(DateTimeOffset? OccurredAt = null);

    private static async Task<IResult> ListAsync(Guid id, ApiCall call, ListCustomerParts list) =>
        (await list.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> PromiseAsync(
        Guid id,
        ApiCall call,
        Body<CustomerPartInput> body,
        PromiseCustomerPart promise
    ) =>
        (await promise.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToCreated(p =>
            $"{EndpointScan.ApiPrefix}/jobs/{id}/customer-parts#{p.Id}"
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<CustomerPartInput> body,
        ChangeCustomerPart change
    ) => (await change.RunAsync(new CustomerPartId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ArriveAsync(
        Guid id,
        ApiCall call,
        Body<Tap> body,
        ReceiveCustomerPart receive
    ) =>
        (
            await receive.RunAsync(new CustomerPartId(id), call.Envelope(body.Value.OccurredAt), call.Cancellation)
        ).ToHttp();

    private static async Task<IResult> DropAsync(Guid id, ApiCall call, DropCustomerPart drop) =>
        (await drop.RunAsync(new CustomerPartId(id), call.Envelope(), call.Cancellation)).ToHttp();
}
