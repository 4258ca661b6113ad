using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Quotes;

public sealed class QuotesEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/quotes", ListAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary(
                "Quotes, newest first, by state and by customer, registration, chassis number or quote number."
            );
        api.MapPost("/quotes", CreateAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Writes a draft and prices it.")
            .Produces<QuoteJson>(201);
        api.MapPost("/quotes/preview", PreviewAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary(
                "Prices a quote without keeping it, with what would change it; customer and car may be missing."
            )
            .Produces<PriceJson>();
        api.MapGet("/quotes/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("One revision of a quote.")
            .Produces<QuoteJson>();
        api.MapPut("/quotes/{id:guid}", EditAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Changes a draft and prices it anew.")
            .Produces<QuoteJson>();
        api.MapPost("/quotes/{id:guid}/revise", ReviseAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Begins a further revision with the same number.")
            .Produces<QuoteJson>(201);
        api.MapPost("/quotes/{id:guid}/copy", CopyAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Begins a new quote with the choices of an older one, priced today.")
            .Produces<QuoteJson>(201);
        api.MapPost("/quotes/{id:guid}/send", SendAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Freezes a draft; earlier revisions become replaced.")
            .Produces<QuoteJson>();
        api.MapPost("/quotes/{id:guid}/accept", AcceptAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Takes the customer's yes to exactly what was shown.")
            .Produces<QuoteJson>();
        api.MapPost("/quotes/{id:guid}/decline", DeclineAsync)
            .RequirePermission(Permission.Quote)
            .WithSummary("Closes a quote that the customer does not take.")
            .Produces<QuoteJson>();
    }

    public sealed record AcceptBody(string? AcceptedBy, string? ContentHash);

    /// <param name="Why">price, time, wentElsewhere, planDropped, noAnswer or other.</param>
    public sealed record DeclineBody(string? Reason, string? Why);

    /// <param name="CustomerId">Absent: the same customer and car.</param>
    public sealed record CopyBody(Guid? CustomerId, Guid? CarId);

    public sealed record NoBody;

    private static async Task<IResult> ListAsync(
        ApiCall call,
        ListQuotes list,
        string? search,
        string? state,
        Guid? customerId,
        int? page,
        int? pageSize
    )
    {
        if (!PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure))
        {
            return failure.ToProblem();
        }

        QuoteState? only = Enum.GetValues<QuoteState>()
            .Where(s => Code(s) == state)
            .Select(s => (QuoteState?)s)
            .SingleOrDefault();
        if (state is not null && only is null)
        {
            var codes = string.Join(", ", Enum.GetValues<QuoteState>().Select(Code));
            return Failure.Field("state", $"A state is one of: {codes}.").ToProblem();
        }

        var customer = customerId is { } id ? new CustomerId(id) : (CustomerId?)null;
        return (
            await list.RunAsync(new ListQuotes.Filter(search, only, customer, wanted), call.Actor, call.Cancellation)
        ).ToHttp();
    }

    private static async Task<IResult> CreateAsync(ApiCall call, Body<QuoteRequest> body, CreateQuote create) =>
        (await create.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(Location, QuoteJson.Of);

    private static async Task<IResult> PreviewAsync(ApiCall call, Body<QuoteRequest> body, PreviewQuote preview) =>
        (await preview.RunAsync(body.Value, call.Actor, call.Cancellation)).ToHttp(PriceJson.Of);

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetQuote get) =>
        (await get.RunAsync(new QuoteId(id), call.Actor, call.Cancellation)).ToHttp(QuoteJson.Of);

    private static async Task<IResult> EditAsync(Guid id, ApiCall call, Body<QuoteRequest> body, EditQuote edit) =>
        (
            await edit.RunAsync(new EditQuote.Request(new QuoteId(id), body.Value), call.Envelope(), call.Cancellation)
        ).ToHttp(QuoteJson.Of);

    private static async Task<IResult> ReviseAsync(Guid id, ApiCall call, Body<NoBody> _, ReviseQuote revise) =>
        (await revise.RunAsync(new ReviseQuote.Request(new QuoteId(id)), call.Envelope(), call.Cancellation)).ToCreated(
            Location,
            QuoteJson.Of
        );

    private static async Task<IResult> CopyAsync(Guid id, ApiCall call, Body<CopyBody> body, CopyQuote copy) =>
        (
            await copy.RunAsync(
                new CopyQuote.Request(new QuoteId(id), body.Value.CustomerId, body.Value.CarId),
                call.Envelope(),
                call.Cancellation
            )
        ).ToCreated(Location, QuoteJson.Of);

    private static async Task<IResult> SendAsync(Guid id, ApiCall call, Body<NoBody> _, SendQuote send) =>
        (await send.RunAsync(new SendQuote.Request(new QuoteId(id)), call.Envelope(), call.Cancellation)).ToHttp(
            QuoteJson.Of
        );

    private static async Task<IResult> AcceptAsync(Guid id, ApiCall call, Body<AcceptBody> body, AcceptQuote accept) =>
        (
            await accept.RunAsync(
                new AcceptQuote.Request(new QuoteId(id), body.Value.AcceptedBy, body.Value.ContentHash),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(QuoteJson.Of);

    private static async Task<IResult> DeclineAsync(
        Guid id,
        ApiCall call,
        Body<DeclineBody> body,
        DeclineQuote decline
    ) =>
        (
            await decline.RunAsync(
                new DeclineQuote.Request(new QuoteId(id), body.Value.Reason, body.Value.Why),
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp(QuoteJson.Of);

    private static string Location(QuoteView quote) => $"{EndpointScan.ApiPrefix}/quotes/{quote.Id}";

    private static string Code(QuoteState state)
    {
        var word = state.ToString();
        return char.ToLowerInvariant(word[0]) + word[1..];
    }
}
