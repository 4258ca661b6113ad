using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Application.Progress;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Decisions;

/// <summary>What a decision link shows. Whoever holds the token may see it; opening it changes nothing.</summary>
public sealed class SeeDecision(
    IDbContextFactory<ShopDbContext> contexts,
    DescribeQuote describe,
    IEnumerable<ICustomerLanguage> languages,
    TimeProvider clock
) : IUseCase
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
            null,
            link.UsedAt is { } used ? new DecisionAnswered(link.Answer!.Value, shop.LocalDay(used)) : null,
            link.QuestionsAsked < DecisionLink.MostQuestions,
            await languages.ChosenAsync(db, link.CustomerId, ct)
        );
        if (link.Kind == DecisionKind.Quote)
        {
            return await QuotesAsync(db, link, view, today, ct);
        }

        var job = await db.Set<Job>().SingleAsync(j => j.Id == link.JobId, ct);
        view = view with { About = Subject(job, await JobSubject.CarAsync(db, job, ct)) };
        return link.Kind switch
        {
            DecisionKind.Change => await ChangeAsync(db, link, view, ct),
            DecisionKind.PartDay => await PartAsync(db, link, view, today, ct),
            DecisionKind.Appointment => await TimeAsync(db, shop, link, view, today, ct),
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
            : Sold(quotes[0].Scope.Kind);
        return view with
        {
            About = about,
            Papers = papers,
            Shut = papers.TrueForAll(p => p.Shut is not null) ? papers[0].Shut : null,
        };
    }

    /// <summary>As <see cref="JobSubject.Title"/>, in the words of the customer's language.</summary>
    private static Told Subject(Job job, Car? car) =>
        car is null ? Sold(job.Scope.Kind)
        : job.HasCarHere ? car.Title
        : Told.Of("subject.for", ("what", Sold(job.Scope.Kind)), ("car", car.Title));

    private static Told Sold(SaleKind kind) => Told.Of($"subject.{kind}");

    private static DecisionPaper Paper(Quote quote, QuoteDescription words, DateOnly today)
    {
        Told Amount(long minor) => new Money(minor, Currency.Of(quote.Priced.CurrencyCode));
        var (ready, until) = (quote.PromiseDate!.Value, quote.ValidUntil!.Value);
        var sold = words
            .Choices.Where(c => c.Fact is not (QuoteFact.Use or QuoteFact.BuiltTo))
            .Select(c => c.Fact == QuoteFact.Sold ? c.Value : Told.Of($"offer.with.{c.Fact}", ("what", c.Value)));
        return new DecisionPaper(
            quote.Id.Value,
            Told.Of(
                "offer.number",
                ("number", quote.Number),
                ("revision", quote.Revision.ToString(CultureInfo.InvariantCulture))
            ),
            Told.Of(
                "offer.sentence",
                ("sold", new Told.Several([.. sold])),
                ("price", Amount(quote.TotalMinor)),
                ("day", ready)
            ),
            Amount(quote.TotalMinor),
            [
                .. words.Choices.Select(c =>
                    (Told.Of($"offer.{c.Fact}"), c.IsNone ? Told.Of("offer.BuiltTo.none") : c.Value)
                ),
                (Told.Of("offer.ready"), ready),
                (Told.Of("offer.until"), until),
                (
                    Told.Of("offer.deposit"),
                    quote.Priced.DepositMinor == 0 ? Told.Of("offer.deposit.none") : Amount(quote.Priced.DepositMinor)
                ),
            ],
            [
                .. quote.Priced.Lines.Select(l => ((Told)l.Description, Amount(l.NetMinor))),
                .. quote.Priced.DiscountMinor == 0
                    ? Array.Empty<(Told, Told)>()
                    : [(Told.Of("offer.discount"), Amount(-quote.Priced.DiscountMinor))],
                .. quote.Priced.Taxes.Select(t => ((Told)t.Title, Amount(t.TaxMinor))),
            ],
            [
                .. quote.Terms.CustomerNote is { } note ? new Told[] { note } : [],
                .. quote.Priced.Gates.Concat(quote.Priced.Precautions).Select(Told.FromString),
            ],
            quote.ContentHash!,
            quote.StateOn(today) switch
            {
                QuoteState.Sent => null,
                QuoteState.Expired => Told.Of("offer.shut.Expired", ("day", until)),
                var state => Told.Of($"offer.shut.{state}"),
            }
        );
    }

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
        Told Amount(long minor) => new Money(minor, Currency.Of(priced.CurrencyCode));
        var more = Told.Of(
            priced.TotalMinor < 0 ? "change.less" : "change.more",
            ("price", Amount(Math.Abs(priced.TotalMinor)))
        );
        var paper = new DecisionPaper(
            id.Value,
            change.Number,
            Told.Of("change.sentence", ("reason", change.Terms.Reason.TrimEnd('.')), ("more", more)),
            more,
            [
                (Told.Of("change.before"), Amount(change.AgreedMinor)),
                (Told.Of("change.with"), Amount(change.AgreedWithMinor)),
                .. change.PromisedAfter is { } after
                    ? new[]
                    {
                        (
                            Told.Of("offer.ready"),
                            change.PromisedBefore is { } before && before != after
                                ? Told.Of("change.instead", ("day", after), ("before", before))
                                : after
                        ),
                    }
                    : [],
            ],
            [
                .. priced.Lines.Select(l => ((Told)l.Description, Amount(l.NetMinor))),
                .. priced.Taxes.Select(t => ((Told)t.Title, Amount(t.TaxMinor))),
            ],
            [
                .. change.Price.Sentences.Select(Told.FromString),
                .. change.Terms.Operations.Select(o => Told.Of("change.work", ("what", o.Route.Title))),
            ],
            change.ContentHash!,
            change.State switch
            {
                ChangeState.Offered when change.JobState != JobState.Open => Told.Of("change.shut.ended"),
                ChangeState.Offered => null,
                var state => Told.Of($"change.shut.{state}"),
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
            Part = new PartAsked(
                id.Value,
                part.What,
                part.DueOn,
                today,
                today.AddDays(CustomerPart.DaysAhead),
                part.ContentHash
            ),
            Shut = part.State switch
            {
                CustomerPartState.Awaited => null,
                CustomerPartState.Arrived => Told.Of("partDay.shut.Arrived", ("what", part.What)),
                _ => Told.Of("partDay.shut.other", ("what", part.What)),
            },
        };
    }

    private static async Task<DecisionView> TimeAsync(
        ShopDbContext db,
        Shop shop,
        DecisionLink link,
        DecisionView view,
        DateOnly today,
        CancellationToken ct
    )
    {
        var id = AppointmentId.From(link.Subject);
        var time = await db.Set<Appointment>().SingleAsync(a => a.Id == id, ct);
        var over = await AppointmentBook.WhyOverAsync(db, time, today, ct);
        // An answer to a time that was moved since is no answer to the one that stands now.
        var isMoved = link.UsedAt is not null && link.UsedAt != time.AnsweredAt;
        return view with
        {
            Answered = isMoved ? null : view.Answered,
            Time = new TimeAsked(
                id.Value,
                time.Kind,
                time.Day,
                time.TimeText,
                shop.Address.Length == 0 ? null : shop.Address,
                shop.OpeningHours,
                time.ContentHash
            ),
            Shut =
                over is { } why ? Told.Of($"appointment.shut.{why}")
                : isMoved ? Told.Of("appointment.shut.Moved")
                : null,
        };
    }
}
