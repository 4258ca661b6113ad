using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Decisions;

/// <summary>What a customer wrote, as the office reads it.</summary>
public sealed record CustomerWordView(
    CustomerWordId Id,
    string CustomerName,
    CustomerId CustomerId,
    JobId? JobId,
    string? JobNumber,
    QuoteId? QuoteId,
    bool IsLast,
    string Text,
    DateTimeOffset WrittenAt,
    DateTimeOffset? DoneAt,
    string? Answer
);

/// <summary>Questions that wait for the front desk, oldest first, or all of a job, newest first.</summary>
public sealed class ReadCustomerWords(QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<CustomerWordView>>> OpenAsync(Actor actor, CancellationToken ct) =>
        RunAsync(q => q.Where(w => w.DoneAt == null).OrderBy(w => w.WrittenAt), actor, ct);

    public Task<Outcome<IReadOnlyList<CustomerWordView>>> OfJobAsync(JobId job, Actor actor, CancellationToken ct) =>
        RunAsync(q => q.Where(w => w.JobId == job).OrderByDescending(w => w.WrittenAt), actor, ct);

    private Task<Outcome<IReadOnlyList<CustomerWordView>>> RunAsync(
        Func<IQueryable<CustomerWord>, IQueryable<CustomerWord>> which,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<IReadOnlyList<CustomerWordView>>(
            Permission.ShareProgress,
            actor,
            async db =>
            {
                var words = await which(db.Set<CustomerWord>().AsNoTracking())
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var customers = words.Select(w => w.CustomerId).Distinct().ToList();
                var jobs = words.Select(w => w.JobId).OfType<JobId>().Distinct().ToList();
                var names = await db.Set<Customer>()
                    .Where(c => customers.Contains(c.Id))
                    .Select(c => new { c.Id, c.Name })
                    .ToDictionaryAsync(c => c.Id, c => c.Name, ct);
                var numbers = await db.Set<Job>()
                    .Where(j => jobs.Contains(j.Id))
                    .Select(j => new { j.Id, j.Number })
                    .ToDictionaryAsync(j => j.Id, j => j.Number, ct);
                return words
                    .Select(w => new CustomerWordView(
                        w.Id,
                        names[w.CustomerId],
                        w.CustomerId,
                        w.JobId,
                        w.JobId is { } job ? numbers[job] : null,
                        w.QuoteId,
                        w.IsLast,
                        w.Text,
                        w.WrittenAt,
                        w.DoneAt,
                        w.Answer
                    ))
                    .ToList();
            },
            ct
        );
}

/// <summary>The front desk dealt with what a customer wrote.</summary>
public sealed class SettleCustomerWord(CommandRunner runner) : IUseCase
{
    /// <param name="Answer">What was answered, and how; may be left out.</param>
    public sealed record Request(string? Answer = null);

    public Task<Outcome<Done>> RunAsync(CustomerWordId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.ShareProgress,
            envelope,
            new { id, request },
            async scope =>
            {
                if (await scope.Db.Set<CustomerWord>().SingleOrDefaultAsync(w => w.Id == id, ct) is not { } word)
                {
                    return Failure.Missing("question");
                }

                if (word.Settle(request.Answer, scope.Actor.Person, scope.Now).Failure is { } refused)
                {
                    return refused;
                }

                scope.Record(
                    new EventDraft(
                        "customerWord.settled",
                        "customerWord",
                        id.Value,
                        word.JobId,
                        new { isDone = false },
                        new { isDone = true, isAnswered = word.Answer is not null }
                    )
                );
                return default(Done);
            },
            ct
        );
}

/// <summary>Forgets what a customer wrote and ends their links.</summary>
public static class DecisionErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var words = await scope
            .Db.Set<CustomerWord>()
            .Where(w => w.CustomerId == customer)
            .ToListAsync(scope.Cancellation);
        words.ForEach(w => w.Erase());
        var links = await scope
            .Db.Set<DecisionLink>()
            .Where(l => l.CustomerId == customer && (l.RevokedAt == null || l.AnsweredBy != null))
            .ToListAsync(scope.Cancellation);
        foreach (var link in links)
        {
            link.Revoke(scope.Now);
            link.Erase();
        }
    }
}
