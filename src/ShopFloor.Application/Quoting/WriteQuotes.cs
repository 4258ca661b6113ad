using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Writes a first draft.</summary>
public sealed class CreateQuote(CommandRunner runner, QuotePricer pricer) : IUseCase
{
    public Task<Outcome<QuoteView>> RunAsync(QuoteRequest request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<QuoteView>(
            Permission.Quote,
            envelope,
            request,
            async scope =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var priced = await pricer.PriceAsync(scope.Db, request, today, scope.Cancellation);
                if (!priced.TryGet(out var p, out var failure))
                {
                    return failure;
                }

                return await FirstDraft.AddAsync(scope, p, "quote.created", today);
            },
            ct
        );
}

/// <summary>Changes a draft and prices it anew.</summary>
public sealed class EditQuote(CommandRunner runner, QuotePricer pricer) : IUseCase
{
    public sealed record Request(QuoteId Id, QuoteRequest Quote);

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

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var before = QuoteEvents.Facts(quote);
                var priced = await pricer.PriceAsync(scope.Db, request.Quote, today, scope.Cancellation);
                var edited = priced.Then(p => quote.Edit(p.CustomerId, p.CarId, p.Terms, p.PriceBookId, p.Priced));
                if (!edited.TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(QuoteEvents.Of("quote.edited", quote, before));
                await scope.SaveAsync();
                return await QuoteReader.ViewAsync(scope.Db, quote, today, scope.Cancellation);
            },
            ct
        );
}

/// <summary>Prices a request without keeping anything: for the counter page while it is being filled in.</summary>
public sealed class PreviewQuote(QueryRunner runner, QuotePricer pricer, TimeProvider clock) : IUseCase
{
    public Task<Outcome<QuotePreview>> RunAsync(QuoteRequest request, Actor actor, CancellationToken ct) =>
        runner.RunAsync<QuotePreview>(
            Permission.Quote,
            actor,
            async db => (await pricer.PreviewAsync(db, request, await ShopDay.TodayAsync(db, clock, ct), ct)),
            ct
        );
}

/// <summary>Numbers, keeps and shows a first draft, in the caller's command.</summary>
internal static class FirstDraft
{
    internal static async Task<QuoteView> AddAsync(CommandScope scope, PricedTerms p, string eventType, DateOnly today)
    {
        var quote = Quote.Draft(
            scope.NewId<QuoteId>(),
            await scope.NextNumberAsync("Q"),
            p.CustomerId,
            p.CarId,
            p.Terms,
            p.PriceBookId,
            p.Priced,
            scope.Now
        );
        scope.Db.Add(quote);
        scope.Record(QuoteEvents.Of(eventType, quote));
        await scope.SaveAsync();
        return await QuoteReader.ViewAsync(scope.Db, quote, today, scope.Cancellation);
    }
}
