using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

public sealed class PriceBookEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/price-book", CurrentAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The current price book with the codes that quotes use.")
            .Produces<PriceBookJson>();
        api.MapGet("/price-book/document", DocumentAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("The current price book as the document that can be changed and adopted again.")
            .Produces<Book>();
        api.MapPost("/price-book", AdoptAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Adopts a price book document as the next edition; without one, the starter prices.")
            .Produces<PriceBookJson>(201);
    }

    public sealed record AdoptBody(JsonElement? Document);

    private static async Task<IResult> CurrentAsync(ApiCall call, GetPriceBook get) =>
        (await get.RunAsync(call.Actor, call.Cancellation)).ToHttp(PriceBookJson.Of);

    private static async Task<IResult> DocumentAsync(ApiCall call, GetPriceBook get) =>
        (await get.RunAsync(call.Actor, call.Cancellation)).Match(
            book => Results.Text(PriceBookFile.Write(book), "application/json"),
            failure => failure.ToProblem()
        );

    private static async Task<IResult> AdoptAsync(ApiCall call, Body<AdoptBody> body, AdoptPriceBook adopt)
    {
        Book? book = null;
        if (body.Value.Document is { } document)
        {
            if (!PriceBookFile.Read(document.GetRawText()).TryGet(out book, out var failure))
            {
                return failure.ToProblem();
            }
        }

        var adopted = await adopt.RunAsync(new AdoptPriceBook.Request(book), call.Envelope(), call.Cancellation);
        return adopted.ToCreated(_ => $"{EndpointScan.ApiPrefix}/price-book", PriceBookJson.Of);
    }
}

/// <summary>The price book as a file for people who are signed in.</summary>
public sealed class PriceBookFileEndpoint : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/price-book/document", DownloadAsync).RequirePermission(Permission.SeeMoney);

    private static async Task<IResult> DownloadAsync(HttpContext http, GetPriceBook get, CancellationToken ct) =>
        (await get.RunAsync(Actors.Of(http), ct)).Match(
            book =>
                Results.File(
                    System.Text.Encoding.UTF8.GetBytes(PriceBookFile.Write(book)),
                    "application/json",
                    $"price-book-{book.Edition}.json"
                ),
            failure => failure.ToProblem()
        );
}
