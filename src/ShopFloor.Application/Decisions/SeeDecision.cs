using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Decisions;

/// <summary>What a decision link shows. Whoever holds the token may see it; opening it changes nothing.</summary>
public sealed class SeeDecision(IDbContextFactory<ShopDbContext> contexts, DescribeQuote describe, TimeProvider clock)
    : IUseCase
{
    /// <summary>The page's content; null for a wrong, an expired and a revoked token alike, by one and the same look-up.</summary>
    public async Task<DecisionView?> RunAsync(string token, CancellationToken ct)
    {
        var hash = ProgressToken.Hash(token);
        var now = clock.GetUtcNow();
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        var link = await db.Set<DecisionLink>().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        return link?.IsValidAt(now) == true ? await TellAsync(db, link, now, ct) : null;
    }

    private async Task<DecisionView> TellAsync(
        ShopDbContext db,
        DecisionLink link,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.SingleAsync(ct);
        var today = shop.LocalDay(now);
        var view = new DecisionView(
            link.Id,
            link.Kind,
            shop.Name,
            shop.Phone,
            shop.Email,
            "",
            [],
            null,
            null,
            link.UsedAt is { } used ? new DecisionAnswered(link.Answer!.Value, shop.LocalDay(used)) : null,
            link.QuestionsAsked < DecisionLink.MostQuestions
        );
        if (link.Kind == DecisionKind.Quote)
        {
            return await QuotesAsync(db, link, view, today, ct);
        }

        var job = await db.Set<Job>().SingleAsync(j => j.Id == link.JobId, ct);
        view = view with { About = JobSubject.Title(job, await JobSubject.CarAsync(db, job, ct)) };
        return link.Kind switch
        {
            DecisionKind.Change => await ChangeAsync(db, link, view, ct),
            DecisionKind.PartDay => await PartAsync(db, link, view, today, ct),
            _ => view,
        };
    }

    private async Task<DecisionView> QuotesAsync(
        ShopDbContext db,
        DecisionLink link,
        DecisionView view,
        DateOnly today,
        CancellationToken ct
    )
    {
        var ids = link.Subjects.Select(QuoteId.From).ToList();
        var quotes = await db.Set<Quote>().Where(q => ids.Contains(q.Id)).ToListAsync(ct);
        var papers = new List<DecisionPaper>();
        foreach (var quote in quotes.OrderBy(q => ids.IndexOf(q.Id)))
        {
            var words = await describe.OfAsync(db, quote, ct);
            papers.Add(Paper(quote, words, today));
        }

        var about = quotes[0].CarId is { } car
            ? (await db.Set<Car>().SingleAsync(c => c.Id == car, ct)).Title
            : quotes[0].Scope.Kind.Title();
        return view with
        {
            About = about,
            Papers = papers,
            Shut = papers.TrueForAll(p => p.Shut is not null) ? papers[0].Shut : null,
        };
    }

    private static DecisionPaper Paper(Quote quote, QuoteDescription words, DateOnly today)
    {
        string Text(long minor) => MoneyText(minor, quote.Priced.CurrencyCode);
        var sold = string.Join(", ", words.Choices.Where(c => c.Label != "Use" && c.Label != "Built to").Select(Said));
        return new DecisionPaper(
            quote.Id.Value,
            $"{quote.Number}, revision {quote.Revision}",
            $"{sold}: {Text(quote.TotalMinor)} in all, tax included, ready on {Day(quote.PromiseDate!.Value)}.",
            Text(quote.TotalMinor),
            [
                .. words.Choices,
                ("Ready on", Day(quote.PromiseDate!.Value)),
                ("This offer holds until", Day(quote.ValidUntil!.Value)),
                ("Deposit asked for", quote.Priced.DepositMinor == 0 ? "none" : Text(quote.Priced.DepositMinor)),
            ],
            [
                .. quote.Priced.Lines.Select(l => (l.Description, Text(l.NetMinor))),
                .. quote.Priced.DiscountMinor == 0
                    ? Array.Empty<(string, string)>()
                    : [("Discount", Text(-quote.Priced.DiscountMinor))],
                .. quote.Priced.Taxes.Select(t => (t.Title, Text(t.TaxMinor))),
            ],
            [
                .. quote.Terms.CustomerNote is { } note ? new[] { note } : [],
                .. quote.Priced.Gates,
                .. quote.Priced.Precautions,
            ],
            quote.ContentHash!,
            quote.StateOn(today) switch
            {
                QuoteState.Sent => null,
                QuoteState.Replaced =>
                    "This offer was replaced by a newer one. Ask us for the link to it, so that you decide on what holds now.",
                QuoteState.Expired => $"This offer held until {Day(quote.ValidUntil!.Value)}. Ask us for a new one.",
                QuoteState.Accepted => "This offer was accepted.",
                _ => "This offer was declined.",
            }
        );
    }

    private static string Said((string Label, string Value) choice) =>
        choice.Label == "What is sold" ? choice.Value : $"{choice.Label.ToLowerInvariant()} with {choice.Value}";

    private static async Task<DecisionView> ChangeAsync(
        ShopDbContext db,
        DecisionLink link,
        DecisionView view,
        CancellationToken ct
    )
    {
        var id = ChangeOrderId.From(link.Subject);
        var change = await ReadChanges.ViewAsync(db, await db.Set<ChangeOrder>().SingleAsync(c => c.Id == id, ct), ct);
        var priced = change.Price.Priced;
        string Text(long minor) => MoneyText(minor, priced.CurrencyCode);
        var more = priced.TotalMinor < 0 ? "less" : "more";
        var paper = new DecisionPaper(
            id.Value,
            change.Number,
            $"{change.Terms.Reason.TrimEnd('.')}: {Text(Math.Abs(priced.TotalMinor))} {more}, tax included.",
            $"{Text(Math.Abs(priced.TotalMinor))} {more}",
            [
                ("The job before", Text(change.AgreedMinor)),
                ("The job with this change", Text(change.AgreedWithMinor)),
                .. change.PromisedAfter is { } after
                    ? new[]
                    {
                        (
                            "Ready on",
                            change.PromisedBefore is { } before && before != after
                                ? $"{Day(after)} instead of {Day(before)}"
                                : Day(after)
                        ),
                    }
                    : [],
            ],
            [
                .. priced.Lines.Select(l => (l.Description, Text(l.NetMinor))),
                .. priced.Taxes.Select(t => (t.Title, Text(t.TaxMinor))),
            ],
            [.. change.Price.Sentences, .. change.Terms.Operations.Select(o => $"Added work: {o.Route.Title}.")],
            change.ContentHash!,
            change.State switch
            {
                ChangeState.Offered when change.JobState != JobState.Open =>
                    "The job has ended, so nothing is added to it.",
                ChangeState.Offered => null,
                ChangeState.Withdrawn =>
                    "We took this change order back. If another took its place, you get a link to it.",
                ChangeState.Approved => "This change was approved.",
                _ => "This change was declined.",
            }
        );
        return view with { Papers = [paper], Shut = paper.Shut };
    }

    private static async Task<DecisionView> PartAsync(
        ShopDbContext db,
        DecisionLink link,
        DecisionView view,
        DateOnly today,
        CancellationToken ct
    )
    {
        var id = CustomerPartId.From(link.Subject);
        var part = await db.Set<CustomerPart>().SingleAsync(p => p.Id == id, ct);
        return view with
        {
            Part = new PartAsked(part.What, part.DueOn, today, today.AddDays(CustomerPart.DaysAhead)),
            Shut = part.State switch
            {
                CustomerPartState.Awaited => null,
                CustomerPartState.Arrived => $"{part.What}: they are here. Thank you.",
                _ => $"{part.What}: we do not wait for them any more.",
            },
        };
    }

    private static string MoneyText(long minor, string currency) =>
        new Money(minor, Currency.Of(currency)).ToString(CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("dddd d MMMM yyyy", CultureInfo.InvariantCulture);
}
