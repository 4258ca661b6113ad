using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Forecasting;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Learning;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Learning;

/// <summary>One finished operation behind a proposal.</summary>
/// <param name="Share">Part of the operation's estimate that it concerns.</param>
/// <param name="Weight">Under 1: so far out that its pull is bounded, such as a timer that nobody stopped.</param>
public sealed record EvidenceView(
    JobId JobId,
    string Job,
    string Operation,
    double EstimatedMinutes,
    double LoggedMinutes,
    double Share,
    double Weight
);

/// <summary>What the logged hours say of a labour standard or an answer's factor.</summary>
/// <param name="Key">Names it when it is accepted.</param>
/// <param name="Ratio">True ÷ stated minutes, as believed, with its 95 % interval.</param>
public sealed record ProposalView(
    string Key,
    string Text,
    double Ratio,
    double Low,
    double High,
    int Cars,
    int Operations,
    bool IsBounded,
    IReadOnlyList<EvidenceView> Evidence
);

/// <summary>What all proposals together would do to an open draft.</summary>
public sealed record DraftEffect(
    QuoteId QuoteId,
    string Quote,
    double HoursBefore,
    double HoursAfter,
    long TotalBeforeMinor,
    long TotalAfterMinor
);

/// <summary>What was learned for the price book in force.</summary>
/// <param name="Edition">Of the book that would be changed.</param>
/// <param name="Cars">Finished and running cars with timed operations.</param>
/// <param name="LeftOut">Operations whose work an approved change altered: they say nothing of the standards.</param>
/// <param name="Settled">Standards and answers that were looked at and stay as they are.</param>
public sealed record LearningView(
    int Edition,
    string Currency,
    int Cars,
    int Operations,
    IReadOnlyList<ProposalView> Proposals,
    IReadOnlyList<DraftEffect> Drafts,
    int Settled,
    int LeftOut
);

/// <summary>Shows what the shop's own hours say of its labour standards, and takes what the owner accepts into a new edition of the price book.</summary>
public sealed class LabourLearning(
    CommandRunner runner,
    QueryRunner queries,
    IWorkContentSource work,
    QuotePricer pricer,
    TimeProvider clock
) : IUseCase
{
    /// <summary>Most drafts of which the effect is shown, the newest.</summary>
    public const int MostDrafts = 50;

    public const int MostKeys = 500;

    /// <param name="Keys">Of the proposals that are accepted.</param>
    /// <param name="Edition">The edition they were read for.</param>
    public sealed record AcceptRequest(IReadOnlyList<string>? Keys = null, int? Edition = null);

    public sealed record Accepted(int Edition, IReadOnlyList<string> Keys);

    public Task<Outcome<LearningView>> ReadAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<LearningView>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var today = shop.LocalDay(now);
                if (await PriceBooks.InForceAsync(db, today, ct) is not { } edition)
                {
                    return PriceBooks.None;
                }

                var (evidence, numbers, leftOut) = await EvidenceAsync(db, edition.Book, now, ct);
                var model = LabourModel.Learn(evidence);
                var proposals = LabourProposals.Of(model, edition.Book);
                return new LearningView(
                    edition.Edition,
                    shop.Currency.Code,
                    evidence.Select(e => e.Job).Distinct().Count(),
                    evidence.Count,
                    [.. proposals.Select(p => ViewOf(p, numbers))],
                    proposals.Count == 0 ? [] : await EffectAsync(db, edition.Book, proposals, today, ct),
                    model.Effects.Count - proposals.Count,
                    leftOut
                );
            },
            ct
        );

    /// <summary>Makes a new edition of the price book, in force from today, with the accepted proposals in it.</summary>
    public Task<Outcome<Accepted>> AcceptAsync(AcceptRequest request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Accepted>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                if (await PriceBooks.InForceAsync(scope.Db, shop.LocalDay(scope.Now), ct) is not { } edition)
                {
                    return PriceBooks.None;
                }

                if (request.Edition is { } seen && seen != edition.Edition)
                {
                    return Failure.Because(
                        "stale",
                        $"The proposals were made for edition {seen} of the price book; edition {edition.Edition} is in force now. Look at them again."
                    );
                }

                var today = shop.LocalDay(scope.Now);
                var planned = await scope
                    .Db.Set<PriceBookEdition>()
                    .Where(b => b.EffectiveFrom > today)
                    .OrderBy(b => b.EffectiveFrom)
                    .Select(b => new { b.Edition, b.EffectiveFrom })
                    .FirstOrDefaultAsync(ct);
                if (planned is not null)
                {
                    return Failure.Because(
                        "editionPlanned",
                        $"Edition {planned.Edition} of the price book is planned from {planned.EffectiveFrom:yyyy-MM-dd}. A newer edition made now would stand in its place for good. Accept after that day, or write these figures into a draft of the price book yourself."
                    );
                }

                var (evidence, _, _) = await EvidenceAsync(scope.Db, edition.Book, scope.Now, ct);
                var offered = LabourProposals
                    .Of(LabourModel.Learn(evidence), edition.Book)
                    .ToDictionary(p => p.Key, StringComparer.Ordinal);
                var keys = (request.Keys ?? []).Distinct(StringComparer.Ordinal).ToList();
                if (keys.Count > MostKeys)
                {
                    return Failure.Field("keys", $"At most {MostKeys} proposals are accepted at once.");
                }

                if (keys.Exists(k => k is null))
                {
                    return Failure.Field("keys", "A key is missing in the list.");
                }

                if (keys.Find(k => !offered.ContainsKey(k)) is { } unknown)
                {
                    return Failure.Field(
                        "keys",
                        $"'{(unknown.Length > TextRules.Code ? unknown[..TextRules.Code] : unknown)}' is not proposed any more. Look at the proposals again."
                    );
                }

                if (keys.Count == 0)
                {
                    return Failure.Field("keys", "Choose at least one proposal.");
                }

                if (
                    !ApplyProposals
                        .To(edition.Book, [.. keys.Select(k => offered[k])])
                        .TryGet(out var changed, out var failure)
                )
                {
                    return failure;
                }

                if (!(await PriceBooks.AdoptAsync(scope, shop, changed)).TryGet(out var adopted, out failure))
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "labour.learned",
                        "priceBook",
                        adopted.Id.Value,
                        null,
                        new { edition = edition.Edition },
                        new { edition = adopted.Edition, keys }
                    )
                );
                await scope.SaveAsync();
                return new Accepted(adopted.Edition, keys);
            },
            ct
        );

    private async Task<(
        List<WorkEvidence> Evidence,
        IReadOnlyDictionary<JobId, string> Numbers,
        int LeftOut
    )> EvidenceAsync(ShopDbContext db, PriceBook book, DateTimeOffset now, CancellationToken ct)
    {
        await work.RefreshAsync(db, ct);
        var past = await WorkHistory.FinishedAsync(db, ct);
        // Taken apart by the book that is to be corrected; a job of which it no longer knows the work says nothing of it.
        var all = past.Select(p =>
                (
                    p.Changed,
                    Evidence: WorkBreakdown
                        .Of(book, p.Job.Scope, work.For(p.Job.Scope))
                        .Match(parts => WorkEvidence.Of(p.Job, parts, now, p.Changed), _ => [])
                )
            )
            .ToList();
        var evidence = all.SelectMany(p => p.Evidence).ToList();
        return (evidence, past.ToDictionary(p => p.Job.Id, p => p.Job.Number), all.Sum(p => p.Changed.Count));
    }

    private async Task<IReadOnlyList<DraftEffect>> EffectAsync(
        ShopDbContext db,
        PriceBook book,
        IReadOnlyList<LabourProposal> proposals,
        DateOnly today,
        CancellationToken ct
    )
    {
        if (!ApplyProposals.To(book, proposals).TryGet(out var changed, out _))
        {
            return [];
        }

        var drafts = await db.Set<Quote>()
            .Where(q => q.State == QuoteState.Draft)
            .OrderByDescending(q => q.Id)
            .Take(MostDrafts)
            .ToListAsync(ct);
        return
        [
            .. drafts
                .Select(q =>
                    (
                        Quote: q,
                        Before: pricer.Price(book, q.Terms, today).Match<PricedQuote?>(p => p, _ => null),
                        After: pricer.Price(changed, q.Terms, today).Match<PricedQuote?>(p => p, _ => null)
                    )
                )
                .Where(q => q is { Before: not null, After: not null })
                .Select(q => new DraftEffect(
                    q.Quote.Id,
                    q.Quote.Number,
                    (double)q.Before!.Operations.Sum(o => o.Hours),
                    (double)q.After!.Operations.Sum(o => o.Hours),
                    q.Before.TotalMinor,
                    q.After!.TotalMinor
                )),
        ];
    }

    private static ProposalView ViewOf(LabourProposal p, IReadOnlyDictionary<JobId, string> numbers) =>
        new(
            p.Key,
            p.Text,
            p.Effect.Ratio,
            p.Effect.Low,
            p.Effect.High,
            p.Effect.Cars,
            p.Effect.Operations,
            p.IsBounded,
            [
                .. p.Effect.Rows.Select(r => new EvidenceView(
                    r.Evidence.Job,
                    numbers[r.Evidence.Job],
                    r.Evidence.Operation,
                    Math.Round(r.Evidence.EstimatedMinutes, 1),
                    Math.Round(r.Evidence.LoggedMinutes, 1),
                    Math.Round(r.Share, 3),
                    Math.Round(r.Weight, 3)
                )),
            ]
        );
}
