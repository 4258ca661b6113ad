using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Decisions;

/// <summary>A link as handed out once: its token cannot be read again.</summary>
public sealed record DecisionTicket(DecisionLinkId Id, string Token, DateTimeOffset ExpiresAt);

/// <summary>Makes a link by which a customer says one thing. A repeat with the same idempotency key makes another link: the answer is not remembered, since it holds the token.</summary>
public sealed class CreateDecisionLink(CommandRunner runner) : IUseCase
{
    /// <param name="Kind">quote, change, partDay, appointment or lastWord.</param>
    /// <param name="Subjects">The quotes to choose among, the change order, the customer's part, the appointment, or the job.</param>
    /// <param name="ValidDays">1 to 120; absent: 60.</param>
    public sealed record Request(string? Kind, IReadOnlyList<Guid>? Subjects, int? ValidDays = null);

    private sealed record About(CustomerId Customer, JobId? Job);

    public Task<Outcome<DecisionTicket>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<DecisionTicket>(
            Permission.ShareProgress,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            request,
            async scope =>
            {
                var subjects = request.Subjects ?? [];
                if (subjects.Count == 0)
                {
                    return Failure.Field("subjects", "Say what the customer is asked about.");
                }

                if (!(await AboutAsync(scope, request.Kind, subjects)).TryGet(out var found, out var failure))
                {
                    return failure;
                }

                var (kind, about) = found;
                var made = DecisionLink.Create(kind, about.Customer, about.Job, subjects, request.ValidDays, scope.Now);
                if (!made.TryGet(out var created, out failure))
                {
                    return failure;
                }

                scope.Db.Add(created.Link);
                scope.Record(DecisionEvents.Of("decisionLink.created", created.Link));
                return new DecisionTicket(created.Link.Id, created.Token, created.Link.ExpiresAt);
            },
            ct
        );

    private static async Task<Outcome<(DecisionKind, About)>> AboutAsync(
        CommandScope scope,
        string? kind,
        IReadOnlyList<Guid> subjects
    )
    {
        var (db, ct) = (scope.Db, scope.Cancellation);
        switch (kind)
        {
            case "quote":
                return await QuotesAsync(scope, [.. subjects.Select(QuoteId.From)]);
            case "change" when subjects.Count == 1:
                var changeId = ChangeOrderId.From(subjects[0]);
                if (await db.Set<ChangeOrder>().SingleOrDefaultAsync(c => c.Id == changeId, ct) is not { } change)
                {
                    return Failure.Missing("change order");
                }

                return change.State == ChangeState.Offered
                    ? (DecisionKind.Change, await OfJobAsync(scope, change.JobId))
                    : Failure.Because(
                        "notOffered",
                        $"{change.Number} is {change.State.Title()}: only an offered change order can be approved by a link."
                    );
            case "partDay" when subjects.Count == 1:
                var partId = CustomerPartId.From(subjects[0]);
                if (await db.Set<CustomerPart>().SingleOrDefaultAsync(p => p.Id == partId, ct) is not { } part)
                {
                    return Failure.Missing("customer part");
                }

                return part.State == CustomerPartState.Awaited
                    ? (DecisionKind.PartDay, await OfJobAsync(scope, part.JobId))
                    : Failure.Because("notAwaited", $"'{part.What}' is not awaited any more.");
            case "appointment" when subjects.Count == 1:
                var appointmentId = AppointmentId.From(subjects[0]);
                if (await db.Set<Appointment>().SingleOrDefaultAsync(a => a.Id == appointmentId, ct) is not { } time)
                {
                    return Failure.Missing("appointment");
                }

                return
                    await AppointmentBook.WhyOverAsync(db, time, (await scope.ShopAsync()).LocalDay(scope.Now), ct)
                        is { } over
                    ? Failure.Because("over", over.Sentence())
                    : (DecisionKind.Appointment, await OfJobAsync(scope, time.JobId));
            case "lastWord" when subjects.Count == 1:
                var jobId = JobId.From(subjects[0]);
                return await db.Set<Job>().AnyAsync(j => j.Id == jobId, ct)
                    ? (DecisionKind.LastWord, await OfJobAsync(scope, jobId))
                    : Failure.Missing("job");
            default:
                return Failure.Field(
                    "kind",
                    "The kind is quote, change, partDay, appointment or lastWord; all but quote are about one thing."
                );
        }
    }

    private static async Task<Outcome<(DecisionKind, About)>> QuotesAsync(CommandScope scope, List<QuoteId> ids)
    {
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        var quotes = await scope
            .Db.Set<Quote>()
            .AsNoTracking()
            .Where(q => ids.Contains(q.Id))
            .ToListAsync(scope.Cancellation);
        if (quotes.Count < ids.Distinct().Count())
        {
            return Failure.Missing("quote");
        }

        if (quotes.Find(q => q.StateOn(today) != QuoteState.Sent) is { } shut)
        {
            return Failure.Because(
                "notSent",
                $"Quote {shut.Number} revision {shut.Revision} is {Quote.Word(shut.StateOn(today))}: only a sent quote can be answered by a link."
            );
        }

        return quotes.DistinctBy(q => q.CustomerId).Count() == 1
            ? (DecisionKind.Quote, new About(quotes[0].CustomerId, null))
            : Failure.Field("subjects", "These quotes are for several customers; a link is for one.");
    }

    private static async Task<About> OfJobAsync(CommandScope scope, JobId job) =>
        new(
            await scope.Db.Set<Job>().Where(j => j.Id == job).Select(j => j.CustomerId).SingleAsync(scope.Cancellation),
            job
        );
}

/// <summary>Ends a link's life: its page answers like one that never was.</summary>
public sealed class RevokeDecisionLink(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(DecisionLinkId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.ShareProgress,
            envelope,
            new { id },
            async scope =>
            {
                var link = await scope.Db.Set<DecisionLink>().SingleOrDefaultAsync(l => l.Id == id, ct);
                if (link is null)
                {
                    return Failure.Missing("link");
                }

                if (link.RevokedAt is null)
                {
                    var before = DecisionEvents.Facts(link);
                    link.Revoke(scope.Now);
                    scope.Record(DecisionEvents.Of("decisionLink.revoked", link, before));
                }

                return default(Done);
            },
            ct
        );
}

/// <summary>A link as the office lists it.</summary>
/// <param name="AnsweredBy">The name typed with an answer that has no other place for it.</param>
/// <param name="IsOpen">It opens its page and nothing was answered.</param>
public sealed record DecisionLinkView(
    DecisionLinkId Id,
    DecisionKind Kind,
    IReadOnlyList<Guid> Subjects,
    DateTimeOffset CreatedAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? RevokedAt,
    DateTimeOffset? UsedAt,
    DecisionAnswer? Answer,
    string? AnsweredBy,
    bool IsOpen
);

/// <summary>Lists the links about a quote, a change order, a part or a job, newest first.</summary>
public sealed class ListDecisionLinks(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<DecisionLinkView>>> RunAsync(Guid subject, Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<DecisionLinkView>>(
            Permission.ShareProgress,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var links = await db.Set<DecisionLink>()
                    .AsNoTracking()
                    .Where(l => l.Subject == subject)
                    .OrderByDescending(l => l.CreatedAt)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                return links
                    .Select(l => new DecisionLinkView(
                        l.Id,
                        l.Kind,
                        l.Subjects,
                        l.CreatedAt,
                        l.ExpiresAt,
                        l.RevokedAt,
                        l.UsedAt,
                        l.Answer,
                        l.AnsweredBy,
                        l.IsValidAt(now) && l.UsedAt is null
                    ))
                    .ToList();
            },
            ct
        );
}

/// <summary>What the history keeps of a link: no words of the customer, no token.</summary>
internal static class DecisionEvents
{
    internal static object Facts(DecisionLink link) =>
        new
        {
            kind = link.Kind,
            subjects = link.Subjects,
            expiresAt = link.ExpiresAt,
            isRevoked = link.RevokedAt is not null,
            answer = link.Answer,
        };

    internal static EventDraft Of(string type, DecisionLink link, object? before = null) =>
        new(type, "decisionLink", link.Id.Value, link.JobId, before, Facts(link));
}
