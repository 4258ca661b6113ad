using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The price book in force, its editions, and how two of them differ.</summary>
public sealed class PriceBookEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/price-book", CurrentAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The price book in force with the codes that quotes use.")
            .Produces<PriceBookJson>();
        api.MapGet("/price-book/document", DocumentAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary(
                "A price book as the document that can be changed and adopted again: edition is a number or draft; without it the edition in force."
            )
            .Produces<Book>();
        api.MapPost("/price-book", AdoptAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary(
                "Adopts a price book document as the next edition, in force from effectiveFrom (today without it); without a document, the starter prices."
            )
            .Produces<PriceBookJson>(201);
        api.MapGet("/price-book/editions", EditionsAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("All editions, newest first: from when, who adopted them, how many quotes use them.")
            .Produces<EditionsJson>();
        api.MapGet("/price-book/editions/{edition:int}", OneAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("One edition.")
            .Produces<PriceBookJson>();
        api.MapGet("/price-book/compare", CompareAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary(
                "What differs from one edition to another; from and to are numbers or draft (owner only), without them the edition in force."
            )
            .Produces<ComparisonJson>();
        api.MapGet("/price-book/kits/{code}/work", WorkAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The operations and lines of inspection that a kit brings onto a job.")
            .Produces<KitWork>();
        api.MapGet("/price-book/csv", PartsAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The parts of the price book that are CSV files, with their columns.");
        api.MapGet("/price-book/csv/{part}", CsvAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary(
                "A part as CSV (RFC 4180, UTF-8): amounts in whole units with the currency's digits and a point; edition is a number or draft."
            );
    }

    public sealed record AdoptBody(JsonElement? Document, DateOnly? EffectiveFrom);

    private static async Task<IResult> CurrentAsync(ApiCall call, GetPriceBook get) =>
        (await get.RunAsync(call.Actor, call.Cancellation)).ToHttp(PriceBookJson.Of);

    private static async Task<IResult> DocumentAsync(ApiCall call, string? edition, ReadEditions read) =>
        (await read.BookAsync(edition, call.Actor, call.Cancellation)).Match(
            book => Results.Text(PriceBookFile.Write(book), "application/json"),
            failure => failure.ToProblem()
        );

    private static async Task<IResult> AdoptAsync(ApiCall call, Body<AdoptBody> body, AdoptPriceBook adopt)
    {
        Book? book = null;
        if (
            body.Value.Document is { ValueKind: not JsonValueKind.Null } document
            && !BookDocument.Read(document.GetRawText()).TryGet(out book, out var failure)
        )
        {
            return failure.ToProblem();
        }

        var request = new AdoptPriceBook.Request(book, body.Value.EffectiveFrom);
        var adopted = await adopt.RunAsync(request, call.Envelope(), call.Cancellation);
        return adopted.ToCreated(EditionUrl, PriceBookJson.Of);
    }

    internal static string EditionUrl(Book book) => $"{EndpointScan.ApiPrefix}/price-book/editions/{book.Edition}";

    private static async Task<IResult> EditionsAsync(ApiCall call, ReadEditions read, int? page, int? pageSize) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.ListAsync(wanted, call.Actor, call.Cancellation)).ToHttp(EditionsJson.Of)
            : failure.ToProblem();

    private static async Task<IResult> OneAsync(int edition, ApiCall call, ReadEditions read) =>
        (await read.OneAsync(edition, call.Actor, call.Cancellation)).ToHttp(PriceBookJson.Of);

    private static async Task<IResult> CompareAsync(ApiCall call, string? from, string? to, ReadEditions read) =>
        (await read.CompareAsync(from, to, call.Actor, call.Cancellation)).ToHttp(ComparisonJson.Of);

    private static async Task<IResult> WorkAsync(string code, ApiCall call, ReadKitWork read) =>
        (await read.RunAsync(code, call.Actor, call.Cancellation)).ToHttp();

    private static IResult PartsAsync(ApiCall call) => Results.Ok(new { items = PriceBookCsv.Parts });

    private static async Task<IResult> CsvAsync(ApiCall call, string part, string? edition, ReadEditions read) =>
        (await read.BookAsync(edition, call.Actor, call.Cancellation)).Match(
            book => PriceBookFile.Csv(book, part),
            failure => failure.ToProblem()
        );
}

/// <summary>The price book as files for people who are signed in.</summary>
public sealed class PriceBookFileEndpoint : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/price-book/document", DocumentAsync).RequirePermission(Permission.SeeMoney);
        app.MapGet("/price-book/csv", CsvAsync).RequirePermission(Permission.SeeMoney);
    }

    private static async Task<IResult> DocumentAsync(
        HttpContext http,
        string? edition,
        ReadEditions read,
        CancellationToken ct
    ) => (await read.BookAsync(edition, Actors.Of(http), ct)).Match(PriceBookFile.Json, f => f.ToProblem());

    private static async Task<IResult> CsvAsync(
        HttpContext http,
        string? part,
        string? edition,
        ReadEditions read,
        CancellationToken ct
    ) =>
        (await read.BookAsync(edition, Actors.Of(http), ct)).Match(
            book => PriceBookFile.Csv(book, part),
            f => f.ToProblem()
        );
}
