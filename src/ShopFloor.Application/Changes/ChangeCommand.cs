using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>What all changes of a stored change order have in common: find it and its job, refuse a stale one, act, save, show.</summary>
internal static class ChangeCommand
{
    internal static Task<Outcome<ChangeView>> RunAsync(
        CommandRunner runner,
        ChangeOrderId id,
        object content,
        Envelope envelope,
        string eventType,
        Func<CommandScope, ChangeOrder, Job, Task<Outcome<Done>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<ChangeView>(
            Permission.Quote,
            envelope,
            content,
            async scope =>
                (await InScopeAsync(scope, id, eventType, act)).TryGet(out var change, out var failure)
                    ? await ReadChanges.ViewAsync(scope.Db, change, scope.Cancellation)
                    : failure,
            ct
        );

    /// <summary>The same as part of another command.</summary>
    internal static async Task<Outcome<ChangeOrder>> InScopeAsync(
        CommandScope scope,
        ChangeOrderId id,
        string eventType,
        Func<CommandScope, ChangeOrder, Job, Task<Outcome<Done>>> act
    )
    {
        var db = scope.Db;
        if (await db.Set<ChangeOrder>().SingleOrDefaultAsync(c => c.Id == id, scope.Cancellation) is not { } change)
        {
            return Failure.Missing("change order");
        }

        if (scope.Stale(change) is { } stale)
        {
            return stale;
        }

        var job = await db.JobsWhole().SingleAsync(j => j.Id == change.JobId, scope.Cancellation);
        var before = Facts(change);
        if (!(await act(scope, change, job)).TryGet(out _, out var failure))
        {
            return failure;
        }

        // Whoever taps on the job at the same moment looks again and meets the gate.
        db.Touch(job);
        scope.Record(Event(eventType, change, before));
        await scope.SaveAsync();
        return change;
    }

    /// <summary>What the history keeps: ids, codes and figures, no names and no free text.</summary>
    internal sealed record ChangeFacts(
        string Number,
        ChangeState State,
        ChangeBasis Basis,
        long TotalMinor,
        string Currency,
        string HoursMore,
        IReadOnlyList<string> Operations,
        IReadOnlyList<string> Holds,
        int? PromiseDays,
        DateOnly? PromiseOn,
        ApprovalWay? How,
        string? ContentHash
    );

    internal static ChangeFacts Facts(ChangeOrder change) =>
        new(
            change.Number,
            change.State,
            change.Terms.Basis,
            change.TotalMinor,
            change.Priced.CurrencyCode,
            change.Priced.Hours.Priced.ToString(System.Globalization.CultureInfo.InvariantCulture),
            [.. change.Terms.Operations.Select(o => o.Route.Code)],
            change.Terms.Holds,
            change.Terms.PromiseDays,
            change.Terms.PromiseOn,
            change.ApprovedHow,
            change.ContentHash
        );

    internal static EventDraft Event(string type, ChangeOrder change, ChangeFacts? before = null) =>
        new(type, "changeOrder", change.Id.Value, change.JobId, before, Facts(change));

    /// <summary>The refusal where a job is over, null while it is open.</summary>
    internal static Failure? Over(Job job) => job.RefuseAdded([]);
}
