using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Freezes a draft and takes every earlier revision out of play.</summary>
public sealed class SendQuote(CommandRunner runner) : IUseCase
{
    public sealed record Request(QuoteId Id);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            async (scope, quote, today) =>
            {
                var edition = await scope
                    .Db.Set<PriceBookEdition>()
                    .SingleAsync(b => b.Id == quote.PriceBookId, scope.Cancellation);
                var sent = quote.Send(edition.Book, today, scope.Now);
                if (!sent.IsSuccess)
                {
                    return sent;
                }

                var earlier = await scope
                    .Db.Set<Quote>()
                    .Where(q =>
                        q.Number == quote.Number && q.Revision < quote.Revision && q.State != QuoteState.Replaced
                    )
                    .ToListAsync(scope.Cancellation);
                foreach (var old in earlier)
                {
                    var before = QuoteEvents.Facts(old);
                    var replaced = old.ReplaceBy(quote);
                    if (!replaced.IsSuccess)
                    {
                        return replaced;
                    }

                    scope.Record(QuoteEvents.Of("quote.replaced", old, before));
                }

                scope.Record(QuoteEvents.Of("quote.sent", quote));
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Takes the customer's yes: by name, for exactly what was shown.</summary>
public sealed class AcceptQuote(CommandRunner runner) : IUseCase
{
    public sealed record Request(QuoteId Id, string? AcceptedBy, string? ContentHash);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            (scope, quote, today) =>
            {
                var accepted = quote.Accept(request.AcceptedBy, request.ContentHash, today, scope.Now);
                if (accepted.IsSuccess)
                {
                    scope.Record(QuoteEvents.Of("quote.accepted", quote));
                }

                return Task.FromResult(accepted);
            },
            ct
        );
}

/// <summary>Closes a quote that the customer does not take.</summary>
public sealed class DeclineQuote(CommandRunner runner) : IUseCase
{
    public sealed record Request(QuoteId Id, string? Reason);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            (scope, quote, _) =>
            {
                var declined = quote.Decline(request.Reason, scope.Now);
                if (declined.IsSuccess)
                {
                    scope.Record(QuoteEvents.Of("quote.declined", quote));
                }

                return Task.FromResult(declined);
            },
            ct
        );
}

/// <summary>Begins a further revision of a quote that was sent.</summary>
public sealed class ReviseQuote(CommandRunner runner, QuotePricer pricer) : IUseCase
{
    public sealed record Request(QuoteId Id);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<QuoteView>(
            Permission.Quote,
            envelope,
            request,
            async scope =>
            {
                if (await QuoteReader.FindAsync(scope.Db, request.Id, scope.Cancellation) is not { } quote)
                {
                    return Failure.Missing("quote");
                }

                if (scope.Stale(quote) is { } stale)
                {
                    return stale;
                }

                if (await PriceBooks.CurrentAsync(scope.Db, scope.Cancellation) is not { } edition)
                {
                    return PriceBooks.None;
                }

                var newest = await scope
                    .Db.Set<Quote>()
                    .Where(q => q.Number == quote.Number)
                    .MaxAsync(q => q.Revision, scope.Cancellation);
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var revised = pricer
                    .Price(edition.Book, quote.Terms, today)
                    .Then(priced => quote.Revise(scope.NewId<QuoteId>(), newest, edition.Id, priced, scope.Now));
                if (!revised.TryGet(out var draft, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(draft);
                scope.Record(QuoteEvents.Of("quote.revised", draft));
                await scope.SaveAsync();
                return await QuoteReader.ViewAsync(scope.Db, draft, today, scope.Cancellation);
            },
            ct
        );
}
