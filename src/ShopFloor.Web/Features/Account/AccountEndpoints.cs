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
            .WithSummary(
                "Invoices what is agreed and not invoiced yet: all of it, or a part by percent, amountMinor (total with tax) or lines (keys)."
            )
            .Produces<InvoiceRow>(201);
        api.MapPost("/invoices/{id:guid}/credit-notes", CreditAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Takes an invoice back by a credit note: all of it, or a part by amountMinor or lines (keys).")
            .Produces<InvoiceRow>(201);
        api.MapPost("/jobs/{id:guid}/account/deposit-first", DepositFirstAsync)
            .RequirePermission(Permission.TakeMoney)
            .WithSummary("Sets whether the job's work waits for its deposit.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/start-without-deposit", StartAsync)
            .RequirePermission(Permission.DecideOnMoney)
            .WithSummary("The owner lets work start without the deposit; the reason is kept.")
            .Produces<AccountView>();
        api.MapPost("/jobs/{id:guid}/account/hand-over-with-balance", LetGoAsync)
            .RequirePermission(Permission.DecideOnMoney)
            .WithSummary("The owner lets the car go with a balance due; the reason is kept.")
            .Produces<AccountView>();
    }

    public sealed record MoneyBody(long? AmountMinor, string? Method, string? Reference, DateOnly? On, string? Reason);

    public sealed record TradeCreditBody(
        long? AmountMinor,
        string? Description,
        DateOnly? On,
        string? GivenBy,
        string? TakenBy
    );

    public sealed record ReasonBody(string? Reason);

    public sealed record InvoiceBody(
        DateOnly? SuppliedOn,
        decimal? Percent,
        long? AmountMinor,
        IReadOnlyList<string>? Lines
    );

    public sealed record CreditBody(string? Reason, long? AmountMinor, IReadOnlyList<string>? Lines);

    public sealed record DepositFirstBody(bool? First);

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
            body.Value.On,
            body.Value.GivenBy,
            body.Value.TakenBy
        );
        return (await take.RunAsync(request, call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> ReverseAsync(
        Guid id,
        Guid entryId,
        ApiCall call,
        Body<ReasonBody> body,
        ReverseEntry reverse
    )
    {
        var request = new ReverseEntry.Request(new JobId(id), new LedgerEntryId(entryId), body.Value.Reason);
        return (await reverse.RunAsync(request, call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> InvoiceAsync(Guid id, ApiCall call, Body<InvoiceBody> body, IssueInvoice issue)
    {
        var request = new IssueInvoice.Request(
            new JobId(id),
            body.Value.SuppliedOn,
            body.Value.Percent,
            body.Value.AmountMinor,
            body.Value.Lines
        );
        return (await issue.RunAsync(request, call.Envelope(), call.Cancellation)).ToCreated(i =>
            $"{EndpointScan.ApiPrefix}/invoices/{i.Id}/pdf"
        );
    }

    private static async Task<IResult> CreditAsync(Guid id, ApiCall call, Body<CreditBody> body, CreditInvoice credit)
    {
        var request = new CreditInvoice.Request(
            new InvoiceId(id),
            body.Value.Reason,
            body.Value.AmountMinor,
            body.Value.Lines
        );
        return (await credit.RunAsync(request, call.Envelope(), call.Cancellation)).ToCreated(i =>
            $"{EndpointScan.ApiPrefix}/invoices/{i.Id}/pdf"
        );
    }

    private static async Task<IResult> DepositFirstAsync(
        Guid id,
        ApiCall call,
        Body<DepositFirstBody> body,
        SetDepositFirst set
    ) =>
        (
            await set.RunAsync(
                new SetDepositFirst.Request(new JobId(id), body.Value.First),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> StartAsync(Guid id, ApiCall call, Body<ReasonBody> body, DecideOnMoney decide) =>
        (
            await decide.StartWithoutDepositAsync(
                new DecideOnMoney.Request(new JobId(id), body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> LetGoAsync(Guid id, ApiCall call, Body<ReasonBody> body, DecideOnMoney decide) =>
        (
            await decide.HandOverWithBalanceAsync(
                new DecideOnMoney.Request(new JobId(id), body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static MoneyRequest Money(Guid id, MoneyBody body) =>
        new(new JobId(id), body.AmountMinor, body.Method, body.Reference, body.On, body.Reason);
}
