using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>What the office's changes of a whole job have in common.</summary>
public sealed class JobChange(CommandRunner runner) : IUseCase
{
    internal Task<Outcome<JobView>> RunAsync(
        JobId id,
        object content,
        Envelope envelope,
        Func<CommandScope, Job, Task<Outcome<EventDraft>>> act,
        CancellationToken ct
    ) => RunAsync(Permission.RunJobs, id, content, envelope, act, ct);

    internal Task<Outcome<JobView>> RunAsync(
        Permission permission,
        JobId id,
        object content,
        Envelope envelope,
        Func<CommandScope, Job, Task<Outcome<EventDraft>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<JobView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                if (!(await JobLoading.WholeAsync(scope, id)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                if (!(await act(scope, job)).TryGet(out var draft, out failure))
                {
                    return failure;
                }

                scope.Db.Touch(job);
                scope.Record(draft);
                await scope.SaveAsync();
                return await JobReader.ViewAsync(scope.Db, job, scope.Actor, scope.Now, scope.Cancellation);
            },
            ct
        );
}

/// <summary>Promises another day, with the reason.</summary>
public sealed class MovePromiseDate(JobChange change) : IUseCase
{
    /// <param name="TellReason">The customer is told the reason as it is written; else it stays in the shop until the sharing page tells it.</param>
    public sealed record Request(DateOnly? PromisedOn, string? Reason, bool TellReason = false);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                errors.AddIf(
                    request.PromisedOn is not { } day || day < today || day > today.AddDays(JobOpener.MostDays),
                    "promisedOn",
                    "Promise today or a day within the next five years."
                );
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var from = job.PromisedOn;
                var moves = job.PromiseMoves.Count;
                var moved = job.MovePromise(request.PromisedOn!.Value, reason, Worker.Of(scope.Actor), scope.Now);
                if (moved.IsSuccess && request.TellReason && job.PromiseMoves.Count > moves)
                {
                    await ExplainMove.TellAsync(scope, job, reason);
                }

                return moved.Then<EventDraft>(_ => new EventDraft(
                    "job.promiseMoved",
                    "job",
                    job.Id.Value,
                    job.Id,
                    new { promisedOn = from },
                    new { promisedOn = job.PromisedOn }
                ));
            },
            ct
        );
}

/// <summary>Records that a qualified person isolated the high-voltage system.</summary>
public sealed class RecordIsolation(JobChange change) : IUseCase
{
    /// <param name="QualifiedPerson">Who did it.</param>
    /// <param name="Reference">Their certificate, or the number of their protocol.</param>
    public sealed record Request(string? QualifiedPerson, string? Reference = null);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            (scope, job) =>
            {
                var errors = new FieldErrors();
                var who = TextRules.Required(
                    request.QualifiedPerson,
                    "qualifiedPerson",
                    "The qualified person",
                    TextRules.Name,
                    errors
                );
                var reference = TextRules.Optional(
                    request.Reference,
                    "reference",
                    "The reference",
                    TextRules.ShortText,
                    errors
                );
                var outcome = errors.Any
                    ? errors.ToFailure()
                    : job.RecordIsolation(new HighVoltageIsolation(who, reference, Worker.Of(scope.Actor), scope.Now));
                return Task.FromResult(
                    outcome.Then<EventDraft>(_ => new EventDraft("job.isolationRecorded", "job", job.Id.Value, job.Id))
                );
            },
            ct
        );
}

/// <summary>Ends a job unfinished: open work is stopped, change orders without an answer are withdrawn, work done and material used are charged, the rest is the customer's again.</summary>
public sealed class CancelJob(JobChange change) : IUseCase
{
    /// <param name="Reason">Why.</param>
    /// <param name="UsedLineCodes">Codes of the quote's lines other than labour that were used up and are charged; those of a change order's own lines with its number before them, e.g. <c>CO-2026-0001/extra:1</c>.</param>
    public sealed record Request(string? Reason, IReadOnlyList<string>? UsedLineCodes = null);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var quote = await scope
                    .Db.Set<Quote>()
                    .AsNoTracking()
                    .SingleAsync(q => q.Id == job.QuoteId, scope.Cancellation);
                if (job.Cancel(reason, scope.Now).Failure is { } refused)
                {
                    return refused;
                }

                HotWorkLoading.Follow(scope, await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation), job, null);
                if ((await OpenChanges.WithdrawAsync(scope, job, reason)).Failure is { } kept)
                {
                    return kept;
                }

                var changes = await ApprovedChanges.OfAsync(scope.Db, job.Id, scope.Cancellation);
                var shares = DoneShares(job, ApprovedChanges.Hours(quote, changes), scope.Now);
                var settled = await JobAccounts.SettleCancelledAsync(
                    scope,
                    job.Id,
                    shares,
                    (request.UsedLineCodes ?? []).ToHashSet(StringComparer.Ordinal),
                    changes
                );
                return settled.Then<EventDraft>(_ => new EventDraft(
                    "job.cancelled",
                    "job",
                    job.Id.Value,
                    job.Id,
                    After: new
                    {
                        shares = shares.ToDictionary(
                            s => s.Key,
                            s => s.Value.ToString(System.Globalization.CultureInfo.InvariantCulture)
                        ),
                    }
                ));
            },
            ct
        );

    /// <summary>Done operations count whole; one under way by the hours logged against the estimate, at most whole.</summary>
    private static Dictionary<string, decimal> DoneShares(
        Job job,
        IReadOnlyDictionary<string, decimal> estimates,
        DateTimeOffset now
    ) =>
        job
            .Operations.Where(o => o.Progress == OperationProgress.Done || o.IsUnderWay)
            .ToDictionary(
                o => o.Code,
                o =>
                    o.Progress == OperationProgress.Done ? 1m
                    : estimates.TryGetValue(o.Code, out var hours) && hours > 0
                        ? decimal.Round(Math.Min(1m, o.Minutes(now) / 60m / hours), 4)
                    : 0m
            );
}
