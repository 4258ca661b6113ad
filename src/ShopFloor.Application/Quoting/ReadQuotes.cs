using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>The shop's local day for queries.</summary>
internal static class ShopDay
{
    internal static async Task<DateOnly> TodayAsync(ShopDbContext db, TimeProvider clock, CancellationToken ct) =>
        (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
}

/// <summary>One revision of a quote.</summary>
public sealed class GetQuote(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<QuoteView>> RunAsync(QuoteId id, Actor actor, CancellationToken ct) =>
        runner.RunAsync<QuoteView>(
            Permission.SeeMoney,
            actor,
            async db =>
                await QuoteReader.FindAsync(db, id, ct) is { } quote
                    ? await QuoteReader.ViewAsync(db, quote, await ShopDay.TodayAsync(db, clock, ct), ct)
                    : Failure.Missing("quote"),
            ct
        );
}

/// <summary>Quotes, newest first, by state and by a part of the customer's name, registration, chassis number or quote number.</summary>
public sealed class ListQuotes(QueryRunner runner, TimeProvider clock) : IUseCase
{
    /// <param name="State">What holds today, so expired ones are not among the sent.</param>
    public sealed record Filter(string? Search, QuoteState? State, CustomerId? Customer, PageRequest Page);

    private sealed record Row(
        QuoteId Id,
        string Number,
        int Revision,
        QuoteState State,
        DateOnly? ValidUntil,
        string CustomerName,
        int? ModelYear,
        string? Make,
        string? Model,
        string? Registration,
        long TotalMinor,
        DateTimeOffset CreatedAt,
        LostReason? LostReason
    );

    public Task<Outcome<Page<QuoteRow>>> RunAsync(Filter filter, Actor actor, CancellationToken ct) =>
        runner.RunAsync<Page<QuoteRow>>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var errors = new FieldErrors();
                var search = TextRules.Optional(filter.Search, "search", "The search", TextRules.Name, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var shop = await db.Shops.SingleAsync(ct);
                var today = shop.LocalDay(clock.GetUtcNow());
                var quotes = InState(db.Set<Quote>(), filter.State, today);
                if (filter.Customer is { } customer)
                {
                    quotes = quotes.Where(q => q.CustomerId == customer);
                }

                var rows =
                    from quote in quotes
                    join owner in db.Set<Customer>() on quote.CustomerId equals owner.Id
                    select new
                    {
                        quote,
                        owner,
                        car = db.Set<Car>().FirstOrDefault(c => c.Id == quote.CarId),
                    };
                if (search is not null)
                {
                    var form = TextRules.SearchForm(search);
                    rows = rows.Where(r =>
                        r.quote.Number.Contains(form)
                        || r.owner.SearchText.Contains(form)
                        || r.car!.SearchText.Contains(form)
                    );
                }

                var ordered = rows.OrderByDescending(r => r.quote.CreatedAt)
                    .ThenByDescending(r => r.quote.Number)
                    .ThenByDescending(r => r.quote.Revision)
                    .Select(r => new Row(
                        r.quote.Id,
                        r.quote.Number,
                        r.quote.Revision,
                        r.quote.State,
                        r.quote.ValidUntil,
                        r.owner.Name,
                        (int?)r.car!.ModelYear,
                        r.car!.Make,
                        r.car!.Model,
                        r.car!.Registration,
                        r.quote.TotalMinor,
                        r.quote.CreatedAt,
                        r.quote.LostReason
                    ));
                return await filter.Page.CutAsync(ordered, r => ToRow(r, shop.Currency, today), ct);
            },
            ct
        );

    private static IQueryable<Quote> InState(IQueryable<Quote> quotes, QuoteState? state, DateOnly today) =>
        state switch
        {
            null => quotes,
            QuoteState.Expired => quotes.Where(q => q.State == QuoteState.Sent && q.ValidUntil < today),
            QuoteState.Sent => quotes.Where(q => q.State == QuoteState.Sent && q.ValidUntil >= today),
            { } other => quotes.Where(q => q.State == other),
        };

    private static QuoteRow ToRow(Row row, Currency currency, DateOnly today) =>
        new(
            row.Id,
            row.Number,
            row.Revision,
            QuoteReader.StateOn(row.State, row.ValidUntil, today),
            row.CustomerName,
            row.ModelYear is null ? "no car" : $"{row.ModelYear} {row.Make} {row.Model}",
            row.Registration,
            row.TotalMinor,
            currency.Code,
            row.CreatedAt,
            row.ValidUntil,
            row.LostReason
        );
}
