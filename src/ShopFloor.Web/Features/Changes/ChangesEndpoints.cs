using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Changes;

public sealed class ChangesEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/change-orders", OfJobAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("A job's change orders, and what the accepted quote and the approved ones come to.")
            .Produces<JobChanges>();
        api.MapPost("/jobs/{id:guid}/change-orders", DraftAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Writes a draft for a running job and prices it.")
            .Produces<ChangeJson>(201);
        api.MapPost("/jobs/{id:guid}/change-orders/preview", PreviewAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Prices a change order without keeping it.")
            .Produces<ChangePriceJson>();
        api.MapPost("/jobs/{id:guid}/change-orders/from-drop-off", FromDropOffAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Writes a draft from the condition found at the drop-off; work after the intake waits for it.")
            .Produces<ChangeJson>(201);
        api.MapGet("/change-orders/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("One change order.")
            .Produces<ChangeJson>();
        api.MapPut("/change-orders/{id:guid}", EditAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Changes a draft and prices it anew.")
            .Produces<ChangeJson>();
        api.MapPost("/change-orders/{id:guid}/offer", OfferAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Freezes a draft; the operations that it holds wait for the customer's answer.")
            .Produces<ChangeJson>();
        api.MapPost("/change-orders/{id:guid}/approve", ApproveAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Takes the customer's yes to exactly what was shown, and carries the change out on the job.")
            .Produces<ChangeJson>();
        api.MapPost("/change-orders/{id:guid}/decline", DeclineAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Records that the customer does not want it.")
            .Produces<ChangeJson>();
        api.MapPost("/change-orders/{id:guid}/withdraw", WithdrawAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Takes a draft or an offer back.")
            .Produces<ChangeJson>();
        api.MapGet("/change-orders/{id:guid}/pdf", ChangePapers.PdfAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The change order as a PDF with place for a signature; size is a4 or letter.");
    }

    public sealed record NoBody;

    /// <param name="ContentHash">Of the change order that was shown.</param>
    /// <param name="How">atTheCounter, byTelephone or inWriting.</param>
    public sealed record ApproveBody(string? ApprovedBy, string? ContentHash, string? How);

    public sealed record ReasonBody(string? Reason);

    private static async Task<IResult> OfJobAsync(Guid id, ApiCall call, ReadChanges read) =>
        (await read.OfJobAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> DraftAsync(Guid id, ApiCall call, Body<ChangeRequest> body, DraftChange draft) =>
        (
            await draft.RunAsync(new DraftChange.Request(new JobId(id), body.Value), call.Envelope(), call.Cancellation)
        ).ToCreated(Location, ChangeJson.Of);

    private static async Task<IResult> PreviewAsync(
        Guid id,
        ApiCall call,
        Body<ChangeRequest> body,
        ReadChanges read
    ) => (await read.PreviewAsync(new JobId(id), body.Value, call.Actor, call.Cancellation)).ToHttp(ChangePriceJson.Of);

    private static async Task<IResult> FromDropOffAsync(
        Guid id,
        ApiCall call,
        Body<NoBody> _,
        DraftChangeFromDropOff draft
    ) => (await draft.RunAsync(new JobId(id), call.Envelope(), call.Cancellation)).ToCreated(Location, ChangeJson.Of);

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadChanges read) =>
        (await read.OneAsync(new ChangeOrderId(id), call.Actor, call.Cancellation)).ToHttp(ChangeJson.Of);

    private static async Task<IResult> EditAsync(Guid id, ApiCall call, Body<ChangeRequest> body, EditChange edit) =>
        (
            await edit.RunAsync(
                new EditChange.Request(new ChangeOrderId(id), body.Value),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(ChangeJson.Of);

    private static async Task<IResult> OfferAsync(Guid id, ApiCall call, Body<NoBody> _, OfferChange offer) =>
        (await offer.RunAsync(new ChangeOrderId(id), call.Envelope(), call.Cancellation)).ToHttp(ChangeJson.Of);

    private static async Task<IResult> ApproveAsync(
        Guid id,
        ApiCall call,
        Body<ApproveBody> body,
        ApproveChange approve
    ) =>
        (
            await approve.RunAsync(
                new ApproveChange.Request(
                    new ChangeOrderId(id),
                    body.Value.ApprovedBy,
                    body.Value.ContentHash,
                    body.Value.How
                ),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(ChangeJson.Of);

    private static async Task<IResult> DeclineAsync(
        Guid id,
        ApiCall call,
        Body<ReasonBody> body,
        DeclineChange decline
    ) =>
        (
            await decline.RunAsync(
                new DeclineChange.Request(new ChangeOrderId(id), body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(ChangeJson.Of);

    private static async Task<IResult> WithdrawAsync(
        Guid id,
        ApiCall call,
        Body<ReasonBody> body,
        WithdrawChange withdraw
    ) =>
        (
            await withdraw.RunAsync(
                new WithdrawChange.Request(new ChangeOrderId(id), body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(ChangeJson.Of);

    private static string Location(ChangeView change) => $"{EndpointScan.ApiPrefix}/change-orders/{change.Id}";
}

/// <summary>The change order's paper for people who are signed in.</summary>
public sealed class ChangePapers : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/change-orders/{id:guid}/pdf", PdfAsync).RequirePermission(Permission.SeeMoney);

    internal static Task<IResult> PdfAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintChange print,
        CancellationToken ct
    ) => PaperEndpoints.FileAsync(size, s => print.RunAsync(new ChangeOrderId(id), s, Actors.Of(http), ct));
}
