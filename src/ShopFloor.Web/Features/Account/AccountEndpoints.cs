using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Account;

public sealed class AccountEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/account", OneAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("A job's account: entries, balance, invoices.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/deposits", DepositAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Takes a deposit and writes its receipt.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/payments", PaymentAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Takes a payment and writes its receipt.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/refunds", RefundAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Gives money back, at most what was paid.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/trade-credits", TradeCreditAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Books work or goods taken in exchange at the agreed value.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/entries/{entryId:guid}/reverse", ReverseAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Takes a wrong entry back by its opposite.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/invoices", InvoiceAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Issues the job's invoice.")
            .Produces<InvoiceRow>(201);
    }

    public sealed record MoneyBody(long? AmountMinor, string? Method, string? Reference, DateOnly? On, string? Reason);

    public sealed record TradeCreditBody(long? AmountMinor, string? Description, DateOnly? On);

    public sealed record ReverseBody(string? Reason);

    public sealed record InvoiceBody(DateOnly? SuppliedOn);

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetAccount get) =>
        (await get.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> DepositAsync(Guid id, ApiCall call, Body<MoneyBody> body, TakeDeposit take) =>
        (await take.RunAsync(Money(id, body.Value), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PaymentAsync(Guid id, ApiCall call, Body<MoneyBody> body, TakePayment take) =>
        (await take.RunAsync(Money(id, body.Value), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RefundAsync(Guid id, ApiCall call, Body<MoneyBody> body, GiveRefund give) =>
        (await give.RunAsync(Money(id, body.Value), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> TradeCreditAsync(
        Guid id,
        ApiCall call,
        Body<TradeCreditBody> body,
        TakeTradeCredit take
    )
    {
        var request = new TakeTradeCredit.Request(
            new JobId(id),
            body.Value.AmountMinor,
            body.Value.Description,
            body.Value.On
        );
        return (await take.RunAsync(request, call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> ReverseAsync(
        Guid id,
        Guid entryId,
        ApiCall call,
        Body<ReverseBody> body,
        ReverseEntry reverse
    )
    {
        var request = new ReverseEntry.Request(new JobId(id), new LedgerEntryId(entryId), body.Value.Reason);
        return (await reverse.RunAsync(request, call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> InvoiceAsync(Guid id, ApiCall call, Body<InvoiceBody> body, IssueInvoice issue)
    {
        var request = new IssueInvoice.Request(new JobId(id), body.Value.SuppliedOn);
        return (await issue.RunAsync(request, call.Envelope(), call.Cancellation)).ToCreated(i =>
            $"{EndpointScan.ApiPrefix}/invoices/{i.Id}/pdf"
        );
    }

    private static MoneyRequest Money(Guid id, MoneyBody body) =>
        new(new JobId(id), body.AmountMinor, body.Method, body.Reference, body.On, body.Reason);
}
