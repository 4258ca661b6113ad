using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Freezes a draft and tells it to the customer; the work that it holds waits for the answer.</summary>
public sealed class OfferChange(CommandRunner runner) : IUseCase
{
    public Task<Outcome<ChangeView>> RunAsync(ChangeOrderId id, Envelope envelope, CancellationToken ct) =>
        ChangeCommand.RunAsync(
            runner,
            id,
            new { id },
            envelope,
            "changeOrder.offered",
            async (scope, change, job) =>
                job.RefuseAdded(change.Terms.Operations) is { } refused
                    ? refused
                    : change.Offer(job.PromisedOn, (await scope.ShopAsync()).LocalDay(scope.Now), scope.Now),
            ct
        );
}

/// <summary>Takes the customer's yes by name, for exactly what was shown: charges the account, adds operations and inspection lines to the running job, moves the promised day.</summary>
public sealed class ApproveChange(CommandRunner runner) : IUseCase
{
    /// <param name="How">atTheCounter, byTelephone or inWriting.</param>
    public sealed record Request(ChangeOrderId Id, string? ApprovedBy, string? ContentHash, string? How);

    public Task<Outcome<ChangeView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        ChangeCommand.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            "changeOrder.approved",
            (scope, change, job) =>
                ActAsync(
                    scope,
                    change,
                    job,
                    request.ApprovedBy,
                    request.ContentHash,
                    // What came by the link was written by whoever holds it.
                    Words<ApprovalWay>.Read(request.How)
                        is { } how
                            and not ApprovalWay.ByLink
                        ? how
                        : null
                ),
            ct
        );

    /// <summary>The yes itself, in whatever command it comes.</summary>
    internal static async Task<Outcome<Done>> ActAsync(
        CommandScope scope,
        ChangeOrder change,
        Job job,
        string? approvedBy,
        string? contentHash,
        ApprovalWay? how
    )
    {
        // Invoices and approvals take turns, so that a reduction never slips below what is being invoiced.
        await MoneyDays.LockAsync(scope);
        var (quote, book) = await ConditionComparison.LoadAsync(scope.Db, job, scope.Cancellation);
        var others = await ApprovedChanges.OfAsync(scope.Db, job.Id, scope.Cancellation);
        var approved = change.Approve(
            approvedBy,
            contentHash,
            how,
            ApprovedChanges.Condition(quote, book, others),
            scope.Actor.Person,
            scope.Now
        );
        return approved.IsSuccess ? await CarryOutAsync(scope, change, job) : approved;
    }

    private static async Task<Outcome<Done>> CarryOutAsync(CommandScope scope, ChangeOrder change, Job job)
    {
        if (!job.Add(change.Terms.Operations, scope.NewId<OperationId>).TryGet(out var operations, out var failure))
        {
            return failure;
        }

        scope.Db.AddRange(operations);
        if (await InspectAsync(scope, change, job) is { } refused)
        {
            return refused;
        }

        if (await ChargeAsync(scope, change) is { } unpaid)
        {
            return unpaid;
        }

        if (change.Terms is { PromiseDays: null, PromiseOn: null })
        {
            return Outcome.Ok;
        }

        var from = job.PromisedOn;
        return change.Terms.PromiseAfter(from) is { } to && to != from
            ? job.MovePromise(to, $"Change order {change.Number}", Worker.Of(scope.Actor), scope.Now)
                .Then(done =>
                {
                    scope.Record(
                        new EventDraft(
                            "job.promiseMoved",
                            "job",
                            job.Id.Value,
                            job.Id,
                            new { promisedOn = from },
                            new { promisedOn = job.PromisedOn, changeOrder = change.Number }
                        )
                    );
                    return Outcome.Ok;
                })
            : Outcome.Ok;
    }

    private static async Task<Failure?> InspectAsync(CommandScope scope, ChangeOrder change, Job job)
    {
        var lines = change.Terms.InspectionLines;
        if (lines.Count == 0)
        {
            return null;
        }

        if (await scope.Db.InspectionAsync(job.Id, scope.Cancellation) is not { } inspection)
        {
            return Failure.Because("inspection", "This job has no inspection to which lines could be added.");
        }

        if (!inspection.Add(lines, scope.Now).TryGet(out var added, out var failure))
        {
            return failure;
        }

        scope.Db.AddRange(added);
        scope.Db.Touch(inspection);
        scope.Record(
            new EventDraft(
                "inspection.linesAdded",
                "inspection",
                job.Id.Value,
                job.Id,
                After: new { changeOrder = change.Number, lines = added.Select(l => l.Code) }
            )
        );
        return null;
    }

    private static async Task<Failure?> ChargeAsync(CommandScope scope, ChangeOrder change)
    {
        if (await JobAccounts.FindAsync(scope.Db, change.JobId, scope.Cancellation) is not { } account)
        {
            return Failure.Missing("job account");
        }

        var after = account.ChargedMinor + change.TotalMinor;
        if (change.TotalMinor < 0 && after < account.InvoicedMinor)
        {
            string Text(long minor) =>
                new Money(minor, account.Currency).ToString(System.Globalization.CultureInfo.InvariantCulture);
            return Failure.Because(
                "invoiced",
                $"With {change.Number} the job comes to {Text(after)}, but {Text(account.InvoicedMinor)} is invoiced already. Write a credit note for {Text(account.InvoicedMinor - after)} first, then approve."
            );
        }

        return (
            await JobAccounts.ChargeChangeAsync(scope, change.JobId, change.Number, ChangeCharge.Of(change))
        ).Failure;
    }
}

/// <summary>Records that the customer does not want a change.</summary>
public sealed class DeclineChange(CommandRunner runner) : IUseCase
{
    public sealed record Request(ChangeOrderId Id, string? Reason);

    public Task<Outcome<ChangeView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        ChangeCommand.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            "changeOrder.declined",
            (scope, change, _) => Task.FromResult(change.Decline(request.Reason, scope.Actor.Person, scope.Now)),
            ct
        );
}

/// <summary>Takes a draft or an offer back.</summary>
public sealed class WithdrawChange(CommandRunner runner) : IUseCase
{
    public sealed record Request(ChangeOrderId Id, string? Reason);

    public Task<Outcome<ChangeView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        ChangeCommand.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            "changeOrder.withdrawn",
            (scope, change, _) => Task.FromResult(change.Withdraw(request.Reason, scope.Actor.Person, scope.Now)),
            ct
        );
}
