using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>What all changes of a stored quote have in common: find it, refuse a stale one, act, save, show.</summary>
internal static class QuoteChange
{
    internal static Task<Outcome<QuoteView>> RunAsync(
        CommandRunner runner,
        QuoteId id,
        object content,
        Envelope envelope,
        Func<CommandScope, Quote, DateOnly, Task<Outcome<Done>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<QuoteView>(
            Permission.Quote,
            envelope,
            content,
            async scope =>
            {
                if (await QuoteReader.FindAsync(scope.Db, id, scope.Cancellation) is not { } quote)
                {
                    return Failure.Missing("quote");
                }

                if (scope.Stale(quote) is { } stale)
                {
                    return stale;
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var done = await act(scope, quote, today);
                if (!done.TryGet(out _, out var failure))
                {
                    return failure;
                }

                await scope.SaveAsync();
                return await QuoteReader.ViewAsync(scope.Db, quote, today, scope.Cancellation);
            },
            ct
        );
}

/// <summary>What the history keeps of a quote: ids, codes and figures, no names.</summary>
internal static class QuoteEvents
{
    internal sealed record QuoteFacts(
        string Number,
        int Revision,
        QuoteState State,
        Guid Customer,
        Guid? Car,
        SaleKind Kind,
        string? Kit,
        long TotalMinor,
        string Currency,
        DateOnly? PromiseDate,
        string? ContentHash
    );

    internal static QuoteFacts Facts(Quote quote) =>
        new(
            quote.Number,
            quote.Revision,
            quote.State,
            quote.CustomerId.Value,
            quote.CarId?.Value,
            quote.Scope.Kind,
            quote.Scope.KitCode,
            quote.TotalMinor,
            quote.Priced.CurrencyCode,
            quote.PromiseDate,
            quote.ContentHash
        );

    internal static EventDraft Of(string type, Quote quote, QuoteFacts? before = null) =>
        new(type, "quote", quote.Id.Value, Before: before, After: Facts(quote));
}
