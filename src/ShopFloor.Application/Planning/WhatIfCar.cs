using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>What would become of one more car.</summary>
/// <param name="ReadyOn">The day it would be done; null where it does not fit in, see <paramref name="Why"/>.</param>
/// <param name="OpenDays">Open days from its coming to that day, both counted.</param>
/// <param name="Hours">Expected hours of work.</param>
/// <param name="Ribbon">Its days.</param>
public sealed record WhatIfView(
    string Quote,
    string Car,
    DateOnly ComesOn,
    DateOnly? ReadyOn,
    int? OpenDays,
    decimal Hours,
    IReadOnlyList<RibbonDay> Ribbon,
    IReadOnlyList<string> Granted,
    string? Why,
    bool CanPromise
);

/// <summary>A quote whose car could be asked about.</summary>
public sealed record WhatIfQuote(QuoteId Id, string Number, string Car, string Customer);

/// <summary>"What if I take this car on the 14th": puts the car of a quote into the plan that stands, without moving any other.</summary>
public sealed class WhatIfCar(QueryRunner queries, RouteLibrary routes, TimeProvider clock) : IUseCase
{
    /// <summary>Most quotes offered, the newest.</summary>
    public const int MostQuotes = 100;

    /// <summary>Quotes that are drafts, sent, or accepted without a job.</summary>
    public Task<Outcome<IReadOnlyList<WhatIfQuote>>> QuotesAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<WhatIfQuote>>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                var found = await db.Set<Quote>()
                    .Where(q => !db.Set<Job>().Any(j => j.QuoteId == q.Id))
                    .OrderByDescending(q => q.Id)
                    .Take(MostQuotes)
                    .ToListAsync(ct);
                found.RemoveAll(q =>
                    q.StateOn(today) is not (QuoteState.Draft or QuoteState.Sent or QuoteState.Accepted)
                );
                var carIds = found.Select(q => q.CarId).OfType<CarId>().ToList();
                var customerIds = found.Select(q => q.CustomerId).ToList();
                var cars = await db.Set<Car>().Where(c => carIds.Contains(c.Id)).ToDictionaryAsync(c => c.Id, ct);
                var customers = await db.Set<Customer>()
                    .Where(c => customerIds.Contains(c.Id))
                    .ToDictionaryAsync(c => c.Id, c => c.Name, ct);
                return found
                    .Select(q => new WhatIfQuote(
                        q.Id,
                        $"{q.Number} revision {q.Revision}",
                        q.CarId is { } car ? cars[car].Title : q.Scope.Kind.Title(),
                        customers.GetValueOrDefault(q.CustomerId, "")
                    ))
                    .ToList();
            },
            ct
        );

    /// <param name="day">When the car would come.</param>
    public Task<Outcome<WhatIfView>> RunAsync(QuoteId id, DateOnly? day, Actor actor, CancellationToken ct) =>
        queries.RunAsync<WhatIfView>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var quote = await db.Set<Quote>().SingleOrDefaultAsync(q => q.Id == id, ct);
                if (quote is null)
                {
                    return Failure.Missing("quote");
                }

                var material = await PlanLoading.ReadAsync(db, now, ct);
                var today = material.Shop.LocalDay(now);
                var comes = day ?? today.AddDays(1);
                if (comes < today || comes > today.AddDays(WorkAxis.MostDays / 2))
                {
                    return Failure.Field("day", $"The car comes within {WorkAxis.MostDays / 2} days from today.");
                }

                await routes.RefreshAsync(db, ct);
                return routes.RouteOf(quote.Scope) is { } route
                    ? View(quote, route, material, comes, await TitleAsync(db, quote, ct))
                    : Failure.Because("routeTemplate", $"There is no route for {quote.Scope.RouteKey}.");
            },
            ct
        );

    private static async Task<string> TitleAsync(ShopDbContext db, Quote quote, CancellationToken ct) =>
        quote.CarId is { } car
            ? (await db.Set<Car>().SingleAsync(c => c.Id == car, ct)).Title
            : quote.Scope.Kind.Title();

    private static WhatIfView View(Quote quote, BuiltRoute route, PlanMaterial material, DateOnly comes, string title)
    {
        var job = Job.Open(
            new Job.Opening(
                JobId.From(Guid.Empty),
                "~",
                quote.Id,
                quote.CustomerId,
                quote.CarId,
                quote.Scope,
                null,
                material.Now
            ),
            route,
            () => Ids.New<OperationId>(material.Now)
        );
        var order = new PlanOrder(
            job,
            title,
            quote.Priced.HoursByOperation,
            new GateFacts
            {
                Now = material.Now,
                Zone = material.Shop.Zone,
                AuthorisationSigned = true,
            },
            PlanWishes.Of(job.Id),
            !job.HasCarHere,
            material.Shop.StartOf(comes) is var at && at > material.Now ? at : material.Now,
            new Dictionary<string, DateTimeOffset>()
        );
        var standing = StandingPlan.Of(material, material.Question());
        var with = material with { Orders = [.. material.Orders, order] };
        var question = with.Question();
        var problem = question.Problem;
        var number = problem.Jobs.Index().Single(j => j.Item.Id == job.Id).Index;
        var result = DispatchPlan.AddTo(problem, Moved(material.Question().Problem, problem, standing.Entries));
        var entries = result.Entries.Where(e => problem.Tasks[e.Task].Job == number).ToList();
        DateOnly? ready = entries.Count == 0 ? null : problem.Axis.DayOf(entries.Max(e => e.End) - 1).Day;
        return new WhatIfView(
            $"{quote.Number} revision {quote.Revision}",
            title,
            comes,
            ready,
            ready is { } last ? problem.Axis.Days.Count(d => d.Day >= comes && d.Day <= last) : null,
            Math.Round(quote.Priced.HoursByOperation.Values.Sum(), 1),
            [.. PlanRibbon.Of(problem, entries).SkipWhile(d => d.Day < comes)],
            [.. question.Granted.Where(g => g.Job == job.Id).Select(g => g.Text)],
            result.LeftOut.GetValueOrDefault(number),
            ready is not null && quote.State == QuoteState.Draft
        );
    }

    /// <summary>The same entries in a problem with one job more.</summary>
    private static IReadOnlyList<PlanEntry> Moved(PlanProblem from, PlanProblem to, IReadOnlyList<PlanEntry> entries)
    {
        var tasks = to.Tasks.Select((t, i) => (Key: (to.Jobs[t.Job].Id, t.Code), i)).ToDictionary(p => p.Key, p => p.i);
        return
        [
            .. entries
                .Where(e => e.End <= to.Axis.Slots)
                .Select(e => e with { Task = tasks[(from.Jobs[from.Tasks[e.Task].Job].Id, from.Tasks[e.Task].Code)] }),
        ];
    }
}
