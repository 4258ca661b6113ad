using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Progress;

/// <summary>What the customer's page shows by the shop's choice.</summary>
public sealed class SharingEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/progress-sharing", ReadAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("What the customer's page of a job shows by the shop's choice.")
            .Produces<SharingView>();
        api.MapPut("/jobs/{id:guid}/progress-sharing", ChooseAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary(
                "Chooses whether prices and the forecast are shown, and which papers: quote, invoices, inspectionPack."
            )
            .Produces<SharingView>();
        api.MapPut("/jobs/{id:guid}/promise-reason", ExplainAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Tells the customer why the promised day was moved last; without text takes that back.")
            .Produces<SharingView>();
        api.MapPost("/jobs/{id:guid}/customer-notes", WriteAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Writes a note on the customer's page.")
            .Produces<SharingView>(201);
        api.MapDelete("/customer-notes/{id:guid}", WithdrawAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Takes a note off the customer's page.")
            .Produces(204);
    }

    private static async Task<IResult> ReadAsync(Guid id, ApiCall call, ReadSharing read) =>
        (await read.RunAsync(JobId.From(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChooseAsync(
        Guid id,
        ApiCall call,
        Body<ChooseSharing.Request> body,
        ChooseSharing choose
    ) => (await choose.RunAsync(JobId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ExplainAsync(
        Guid id,
        ApiCall call,
        Body<ExplainMove.Request> body,
        ExplainMove explain
    ) => (await explain.RunAsync(JobId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> WriteAsync(
        Guid id,
        ApiCall call,
        Body<WriteCustomerNote.Request> body,
        WriteCustomerNote write
    ) =>
        (await write.RunAsync(JobId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToCreated(_ =>
            $"{EndpointScan.ApiPrefix}/jobs/{id}/progress-sharing"
        );

    private static async Task<IResult> WithdrawAsync(Guid id, ApiCall call, WithdrawCustomerNote withdraw) =>
        (await withdraw.RunAsync(CustomerNoteId.From(id), call.Envelope(), call.Cancellation)).ToNoContent();
}
