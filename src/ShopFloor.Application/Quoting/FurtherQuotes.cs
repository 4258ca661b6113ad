using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

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

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                if (await PriceBooks.InForceAsync(scope.Db, today, scope.Cancellation) is not { } edition)
                {
                    return PriceBooks.None;
                }

                var newest = await scope
                    .Db.Set<Quote>()
                    .Where(q => q.Number == quote.Number)
                    .MaxAsync(q => q.Revision, scope.Cancellation);
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

/// <summary>Begins a new quote with the choices of an older one, priced at today's book: for the same customer or another.</summary>
/// <remarks>Answers that the price book no longer knows fall back to its defaults; a kit or hinge option that is gone is refused with what is on offer.</remarks>
public sealed class CopyQuote(CommandRunner runner, QuotePricer pricer) : IUseCase
{
    /// <param name="CustomerId">Absent: the older quote's customer and car.</param>
    public sealed record Request(QuoteId Id, Guid? CustomerId = null, Guid? CarId = null);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<QuoteView>(
            Permission.Quote,
            envelope,
            request,
            async scope =>
            {
                if (await QuoteReader.FindAsync(scope.Db, request.Id, scope.Cancellation) is not { } older)
                {
                    return Failure.Missing("quote");
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                if (await PriceBooks.InForceAsync(scope.Db, today, scope.Cancellation) is not { } edition)
                {
                    return PriceBooks.None;
                }

                var wanted = QuoteRequests.Of(older, edition.Book);
                if (request.CustomerId is not null)
                {
                    wanted = wanted with { CustomerId = request.CustomerId, CarId = request.CarId };
                }

                var priced = await pricer.PriceAsync(scope.Db, wanted, today, scope.Cancellation);
                if (!priced.TryGet(out var p, out var failure))
                {
                    return failure;
                }

                var copied = p with { Terms = p.Terms with { CopiedFrom = older.Id } };
                return await FirstDraft.AddAsync(scope, copied, "quote.copied", today);
            },
            ct
        );
}

/// <summary>Says a stored quote's choices again as a request.</summary>
internal static class QuoteRequests
{
    internal static QuoteRequest Of(Quote quote, PriceBook book)
    {
        var (terms, scope, extras) = (quote.Terms, quote.Scope, quote.Terms.Extras);
        return new QuoteRequest(
            quote.CustomerId.Value,
            quote.CarId?.Value,
            scope.KitCode,
            scope.UseCode,
            [.. scope.RuleSetCodes],
            [
                .. scope.Doors.Select(d => new DoorRequest(
                    d.Door == DoorSide.Left ? "left" : "right",
                    d.HingeOptionCode
                )),
            ],
            scope
                .Condition.Where(c => book.FindQuestion(c.Key)?.Answers.Any(a => a.Code == c.Value) == true)
                .ToDictionary(c => c.Key, c => (string?)c.Value, StringComparer.Ordinal),
            terms.Discount.Percent,
            terms.Discount.Minor,
            terms.TradeCreditMinor,
            terms.TradeCreditNote,
            PromiseDate: null,
            terms.CustomerNote,
            terms.InternalNote,
            QuoteExtrasReader.Word(scope.Kind),
            [.. scope.Bench.Select(b => new BenchRequest(b.Skill, b.StandardCode, b.Quantity))],
            [
                .. extras.Lines.Select(l => new LineRequest(
                    l.Description,
                    l.Quantity,
                    l.Unit,
                    l.UnitPriceMinor,
                    [.. l.TaxCodes],
                    l.UnitCostMinor
                )),
            ],
            [.. extras.OutsideWorkCodes.Where(c => book.FindOutsideWork(c) is not null)],
            extras.FreightZoneCode,
            extras.FreightMassKg,
            [.. extras.DiscountLineCodes],
            terms.ReturnOfJob?.Value,
            extras.FreeReason
        );
    }
}
