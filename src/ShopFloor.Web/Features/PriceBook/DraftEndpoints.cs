using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The working copy of the price book: begin, read, replace, import into, discard, adopt.</summary>
public sealed class DraftEndpoints : IApiEndpoints
{
    private const string Path = "/price-book/draft";

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost(Path, BeginAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Begins the working copy from the edition in force, or from fromEdition.")
            .Produces<DraftJson>(201);
        api.MapGet(Path, GetAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The working copy with what stands in the way of adopting it and what it would change.")
            .Produces<DraftJson>();
        api.MapPut(Path, PutAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Replaces the working copy with a document, finished or not.")
            .Produces<DraftJson>();
        api.MapDelete(Path, DiscardAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Throws the working copy away.");
        api.MapPost(Path + "/adopt", AdoptAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Adopts the working copy as the next edition, in force from effectiveFrom (today without it).")
            .Produces<PriceBookJson>(201);
        api.MapPost(Path + "/import/preview", PreviewAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary(
                "Says what a document, or the CSV of one part, would change in the working copy; changes nothing."
            )
            .Produces<PreviewJson>();
        api.MapPost(Path + "/import", ImportAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Takes a document, or the CSV of one part, into the working copy.")
            .Produces<DraftJson>();
    }

    public sealed record BeginBody(int? FromEdition);

    public sealed record PutBody(JsonElement? Document);

    public sealed record AdoptBody(DateOnly? EffectiveFrom);

    /// <param name="Document">The whole book.</param>
    /// <param name="Part">Code of the part that <paramref name="Csv"/> is.</param>
    /// <param name="Csv">The text of the part's file.</param>
    public sealed record ImportBody(JsonElement? Document, string? Part, string? Csv);

    private static async Task<IResult> BeginAsync(ApiCall call, Body<BeginBody> body, BeginPriceBookDraft begin) =>
        (await begin.RunAsync(new(body.Value.FromEdition), call.Envelope(), call.Cancellation)).ToCreated(
            _ => EndpointScan.ApiPrefix + Path,
            DraftJson.Of
        );

    private static async Task<IResult> GetAsync(ApiCall call, GetPriceBookDraft get) =>
        (await get.RunAsync(call.Actor, call.Cancellation)).ToHttp(DraftJson.Of);

    private static async Task<IResult> PutAsync(ApiCall call, Body<PutBody> body, SavePriceBookDraft save)
    {
        if (body.Value.Document is not { } document)
        {
            return Failure.Field("document", "Give the whole price book as document.").ToProblem();
        }

        return BookDocument.Read(document.GetRawText()).TryGet(out var book, out var failure)
            ? (await save.RunAsync(new(book), call.Envelope(), call.Cancellation)).ToHttp(DraftJson.Of)
            : failure.ToProblem();
    }

    private static async Task<IResult> DiscardAsync(ApiCall call, DiscardPriceBookDraft discard) =>
        (await discard.RunAsync(call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> AdoptAsync(ApiCall call, Body<AdoptBody> body, AdoptPriceBookDraft adopt) =>
        (await adopt.RunAsync(new(body.Value.EffectiveFrom), call.Envelope(), call.Cancellation)).ToCreated(
            PriceBookEndpoints.EditionUrl,
            PriceBookJson.Of
        );

    private static async Task<IResult> PreviewAsync(ApiCall call, Body<ImportBody> body, PreviewImport preview) =>
        FileOf(body.Value).TryGet(out var file, out var failure)
            ? (await preview.RunAsync(file, call.Actor, call.Cancellation)).ToHttp(PreviewJson.Of)
            : failure.ToProblem();

    private static async Task<IResult> ImportAsync(ApiCall call, Body<ImportBody> body, ImportIntoDraft import) =>
        FileOf(body.Value).TryGet(out var file, out var failure)
            ? (await import.RunAsync(file, call.Envelope(), call.Cancellation)).ToHttp(DraftJson.Of)
            : failure.ToProblem();

    private static Outcome<BookFile> FileOf(ImportBody body) =>
        body switch
        {
            { Document: { } document, Part: null, Csv: null } => new BookFile(null, document.GetRawText()),
            { Document: null, Part: { } part, Csv: { } csv } => new BookFile(part, csv),
            _ => Failure.Field("$", "Give either document, or part and csv."),
        };
}
