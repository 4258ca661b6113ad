using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Messages;

/// <summary>Messages to customers: lists, taking back, sending again; a customer's choice.</summary>
public sealed class MessagesEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/messages", OfShopAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Messages to customers, newest first; state: waiting, sent, failed, cancelled or notNeeded.");
        api.MapGet("/jobs/{id:guid}/messages", OfJobAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Messages about a job and its quote, newest first.");
        api.MapPost("/messages/{id:guid}/cancel", CancelAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Takes a message back before it goes out.")
            .Produces(204);
        api.MapPost("/messages/{id:guid}/repeat", RepeatAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Sends a message again: a failed one as the same message, else a new one.")
            .Produces<RepeatMessage.Result>();
        api.MapGet("/customers/{id:guid}/messages", ChoicesAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("Which messages the customer does not want.")
            .Produces<MessageChoicesView>();
        api.MapPut("/customers/{id:guid}/messages", ChooseAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Changes which messages the customer does not want; what a contract needs cannot be refused.")
            .Produces<MessageChoicesView>();
    }

    private static async Task<IResult> OfShopAsync(
        ApiCall call,
        ReadMessages read,
        string? state,
        int? page,
        int? pageSize
    )
    {
        MessageState? wanted = Enum.GetValues<MessageState>()
            .Where(s => JsonNamingPolicy.CamelCase.ConvertName(s.ToString()) == state)
            .Cast<MessageState?>()
            .FirstOrDefault();
        if (state is not null && wanted is null)
        {
            return Failure.Field("state", "The state is waiting, sent, failed, cancelled or notNeeded.").ToProblem();
        }

        return PageRequest.Read(page, pageSize).TryGet(out var request, out var failure)
            ? (await read.OfShopAsync(wanted, request, call.Actor, call.Cancellation)).ToHttp(View)
            : failure.ToProblem();
    }

    private static async Task<IResult> OfJobAsync(Guid id, ApiCall call, ReadMessages read, int? page, int? pageSize) =>
        PageRequest.Read(page, pageSize).TryGet(out var request, out var failure)
            ? (await read.OfJobAsync(JobId.From(id), request, call.Actor, call.Cancellation)).ToHttp(View)
            : failure.ToProblem();

    private static object View(MessageListView list) =>
        new
        {
            items = list.Messages.Items,
            page = list.Messages.PageNumber,
            pageSize = list.Messages.PageSize,
            totalCount = list.Messages.TotalCount,
            list.IsMailOn,
            list.Waiting,
            list.Failed,
        };

    private static async Task<IResult> CancelAsync(Guid id, ApiCall call, CancelMessage cancel) =>
        (await cancel.RunAsync(OutboxMessageId.From(id), call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> RepeatAsync(Guid id, ApiCall call, RepeatMessage repeat) =>
        (await repeat.RunAsync(OutboxMessageId.From(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ChoicesAsync(Guid id, ApiCall call, ChooseMessages choose) =>
        (await choose.ReadAsync(CustomerId.From(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChooseAsync(
        Guid id,
        ApiCall call,
        Body<ChooseMessages.Request> body,
        ChooseMessages choose
    ) => (await choose.ChangeAsync(CustomerId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
