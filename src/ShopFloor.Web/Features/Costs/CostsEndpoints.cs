using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Costs;

public sealed class CostsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/costs", OfJobAsync)
            .RequirePermission(Permission.KeepCosts)
            .WithSummary("What a job costs the shop, and what is left of what was agreed.")
            .Produces<JobCostsView>();
        api.MapPost("/jobs/{id:guid}/costs", BookAsync)
            .RequirePermission(Permission.KeepCosts)
            .WithSummary("Books a supplier's bill or outside work; kind is supplierBill or outsideWork.")
            .Produces<JobCostsView>();
        api.MapPost("/costs/{id:guid}/reverse", ReverseAsync)
            .RequirePermission(Permission.KeepCosts)
            .WithSummary("Takes a wrong cost back.")
            .Produces<JobCostsView>();
        api.MapPost("/costs/{id:guid}/paper", AttachAsync)
            .RequirePermission(Permission.KeepCosts)
            .Accepts<IFormFile>("multipart/form-data")
            .WithSummary("Puts the bill beside a cost (multipart: file): PDF, JPEG, PNG or WebP up to 10 MB.")
            .Produces<JobCostsView>();
        api.MapGet("/costs/{id:guid}/paper", PaperAsync)
            .RequirePermission(Permission.KeepCosts)
            .WithSummary("The bill that was put beside a cost.");
    }

    public sealed record CostBody(
        string? Kind,
        string? Supplier,
        string? Description,
        long? AmountMinor,
        long? TaxMinor,
        DateOnly? On,
        string? Reference,
        string? Operation
    );

    public sealed record ReasonBody(string? Reason);

    private static async Task<IResult> OfJobAsync(Guid id, ApiCall call, ReadCosts read) =>
        (await read.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> BookAsync(Guid id, ApiCall call, Body<CostBody> body, BookCost book)
    {
        var (kind, supplier, description, amount, tax, on, reference, operation) = body.Value;
        var request = new BookCost.Request(
            new JobId(id),
            kind,
            supplier,
            description,
            amount,
            tax,
            on,
            reference,
            operation
        );
        return (await book.RunAsync(request, call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> ReverseAsync(
        Guid id,
        ApiCall call,
        Body<ReasonBody> body,
        ReverseCost reverse
    ) =>
        (
            await reverse.RunAsync(
                new ReverseCost.Request(new JobCostId(id), body.Value.Reason),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> AttachAsync(Guid id, HttpRequest request, ApiCall call, AttachCostPaper attach)
    {
        var read = await UploadedFile.ReadAsync(request, AttachCostPaper.MostBytes, "A bill", call.Cancellation);
        return read.TryGet(out var file, out var failure)
            ? (await attach.RunAsync(new JobCostId(id), file, call.Envelope(), call.Cancellation)).ToHttp()
            : failure.ToProblem();
    }

    private static Task<IResult> PaperAsync(Guid id, ApiCall call, ReadCosts read) =>
        CostPapers.ServeAsync(id, call.Actor, read, call.Cancellation);
}

/// <summary>Bills for people who are signed in.</summary>
public sealed class CostPapers : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/costs/{id:guid}/paper", PaperAsync)
            .RequirePermission(Permission.KeepCosts)
            .ExcludeFromDescription();

    private static Task<IResult> PaperAsync(Guid id, HttpContext http, ReadCosts read) =>
        ServeAsync(id, Actors.Of(http), read, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(Guid id, Actor actor, ReadCosts read, CancellationToken ct)
    {
        var found = await read.PaperAsync(new JobCostId(id), actor, ct);
        return found.TryGet(out var file, out var failure)
            ? new PrivateFile(
                file.Bytes,
                file.ContentType,
                file.ContentType == PdfSniffer.ContentType ? "bill.pdf" : "bill.jpg"
            )
            : failure.ToProblem();
    }
}
