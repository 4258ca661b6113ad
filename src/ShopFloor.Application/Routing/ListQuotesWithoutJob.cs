using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>An accepted quote from which a job can still be opened.</summary>
public sealed record QuoteWithoutJob(QuoteId Id, string Number, string CustomerName, string CarTitle);

/// <summary>Accepted quotes whose job was not opened yet, newest first, at most <see cref="Most"/>.</summary>
public sealed class ListQuotesWithoutJob(QueryRunner runner) : IUseCase
{
    public const int Most = 200;

    public Task<Outcome<IReadOnlyList<QuoteWithoutJob>>> RunAsync(Actor actor, CancellationToken ct) =>
        runner.RunAsync<IReadOnlyList<QuoteWithoutJob>>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var rows = await (
                    from quote in db.Set<Quote>()
                    where quote.State == QuoteState.Accepted && !db.Set<Job>().Any(j => j.QuoteId == quote.Id)
                    join owner in db.Set<Customer>() on quote.CustomerId equals owner.Id
                    join car in db.Set<Car>() on quote.CarId equals car.Id
                    orderby quote.CreatedAt descending, quote.Id
                    select new
                    {
                        quote.Id,
                        quote.Number,
                        owner.Name,
                        car.ModelYear,
                        car.Make,
                        car.Model,
                    }
                )
                    .Take(Most)
                    .ToListAsync(ct);
                return rows.ConvertAll(r => new QuoteWithoutJob(
                    r.Id,
                    r.Number,
                    r.Name,
                    $"{r.ModelYear} {r.Make} {r.Model}"
                ));
            },
            ct
        );
}
