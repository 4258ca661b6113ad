using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Account;

/// <summary>Papers about money for the API.</summary>
public sealed class PaperApiEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/quotes/{id:guid}/pdf", PaperEndpoints.QuoteAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The quote as a PDF; size is a4 or letter, detail=lines adds how each line came about.");
        api.MapGet("/invoices/{id:guid}/pdf", PaperEndpoints.InvoiceAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The invoice or credit note as a PDF; size is a4 or letter.");
        api.MapGet("/jobs/{id:guid}/order-confirmation/pdf", PaperEndpoints.OrderAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("What was agreed, as a PDF for the customer; size is a4 or letter.");
        api.MapGet("/jobs/{id:guid}/statement/pdf", PaperEndpoints.StatementAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("All that happened on the job's account, as a PDF; size is a4 or letter.");
        api.MapGet("/receipts/{id:guid}/pdf", PaperEndpoints.ReceiptAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The receipt of an entry as a PDF; size is a4 or letter.");
    }
}

/// <summary>Papers about money for people who are signed in.</summary>
public sealed class PaperEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/quotes/{id:guid}/pdf", QuoteAsync).RequirePermission(Permission.SeeMoney);
        app.MapGet("/invoices/{id:guid}/pdf", InvoiceAsync).RequirePermission(Permission.SeeMoney);
        app.MapGet("/receipts/{id:guid}/pdf", ReceiptAsync).RequirePermission(Permission.SeeMoney);
        app.MapGet("/jobs/{id:guid}/order-confirmation/pdf", OrderAsync).RequirePermission(Permission.SeeMoney);
        app.MapGet("/jobs/{id:guid}/statement/pdf", StatementAsync).RequirePermission(Permission.SeeMoney);
    }

    internal static async Task<IResult> QuoteAsync(
        Guid id,
        string? size,
        string? detail,
        HttpContext http,
        PrintQuote print,
        CancellationToken ct
    ) =>
        detail is null or "lines"
            ? await FileAsync(size, s => print.RunAsync(new QuoteId(id), s, detail is not null, Actors.Of(http), ct))
            : Failure.Field("detail", "The detail is 'lines', or left out.").ToProblem();

    internal static async Task<IResult> InvoiceAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintInvoice print,
        CancellationToken ct
    ) => await FileAsync(size, s => print.RunAsync(new InvoiceId(id), s, Actors.Of(http), ct));

    internal static async Task<IResult> ReceiptAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintReceipt print,
        CancellationToken ct
    ) => await FileAsync(size, s => print.RunAsync(new LedgerEntryId(id), s, Actors.Of(http), ct));

    internal static async Task<IResult> OrderAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintOrder print,
        CancellationToken ct
    ) => await FileAsync(size, s => print.RunAsync(new JobId(id), s, Actors.Of(http), ct));

    internal static async Task<IResult> StatementAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintStatement print,
        CancellationToken ct
    ) => await FileAsync(size, s => print.RunAsync(new JobId(id), s, Actors.Of(http), ct));

    /// <summary>Reads the sheet's size and shows the paper.</summary>
    internal static async Task<IResult> FileAsync(string? size, Func<PaperSize?, Task<Outcome<PrintedPaper>>> print)
    {
        if (size is not (null or "a4" or "letter"))
        {
            return Failure.Field("size", "The sheet is 'a4' or 'letter'.").ToProblem();
        }

        PaperSize? sheet = size switch
        {
            "a4" => PaperSize.A4,
            "letter" => PaperSize.Letter,
            _ => null,
        };
        // Without a download name the browser shows the paper instead of saving it.
        return (await print(sheet)).Match(p => Results.Bytes(p.Content, "application/pdf"), f => f.ToProblem());
    }
}
