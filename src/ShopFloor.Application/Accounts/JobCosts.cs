using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Routing;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Books a supplier's bill or outside work to a job, and to an operation where it was for one.</summary>
public sealed class BookCost(CommandRunner runner) : IUseCase
{
    /// <summary>Fields as in <see cref="CostDetails"/>; the kind is supplierBill or outsideWork.</summary>
    public sealed record Request(
        JobId JobId,
        string? Kind,
        string? Supplier,
        string? Description,
        long? AmountMinor,
        long? TaxMinor,
        DateOnly? On,
        string? Reference,
        string? Operation
    );

    public Task<Outcome<JobCostsView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<JobCostsView>(
            Permission.KeepCosts,
            envelope,
            request,
            async scope =>
            {
                var job = await scope
                    .Db.JobsWhole()
                    .AsNoTracking()
                    .SingleOrDefaultAsync(j => j.Id == request.JobId, scope.Cancellation);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var others = await scope
                    .Db.Set<JobCost>()
                    .AsNoTracking()
                    .Where(c => c.JobId == job.Id)
                    .ToListAsync(scope.Cancellation);
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var booked = JobCost.Book(
                    scope.NewId<JobCostId>(),
                    job.Id,
                    Details(request),
                    [.. job.Operations.Select(o => o.Code)],
                    others,
                    JobAccounts.Stamp(scope, today)
                );
                if (!booked.TryGet(out var cost, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(cost);
                CostChange.Record(scope, cost, "cost.booked");
                await scope.SaveAsync();
                return (await JobCostsView.OfAsync(scope.Db, job.Id, scope.Now, scope.Cancellation))!;
            },
            ct
        );

    private static CostDetails Details(Request request) =>
        new(
            request.Kind switch
            {
                "supplierBill" => CostKind.SupplierBill,
                "outsideWork" => CostKind.OutsideWork,
                _ => null,
            },
            request.Supplier,
            request.Description,
            request.AmountMinor,
            request.TaxMinor,
            request.On,
            request.Reference,
            string.IsNullOrWhiteSpace(request.Operation) ? null : request.Operation
        );
}

/// <summary>Takes a wrong cost back; it stays readable.</summary>
public sealed class ReverseCost(CommandRunner runner) : IUseCase
{
    public sealed record Request(JobCostId CostId, string? Reason);

    public Task<Outcome<JobCostsView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        CostChange.RunAsync(
            runner,
            request.CostId,
            request,
            envelope,
            "cost.reversed",
            (scope, cost) =>
                Task.FromResult(
                    AccountChange
                        .Reason(request.Reason)
                        .Then(reason => cost.Reverse(reason, scope.Now, scope.Actor.Person))
                ),
            ct
        );
}

/// <summary>Puts the bill beside a cost: a PDF as it is, or a picture, which is written anew.</summary>
public sealed class AttachCostPaper(CommandRunner runner, IFileStore files, IImageProcessor images) : IUseCase
{
    public const int MostBytes = PaperFile.MostBytes;

    public async Task<Outcome<JobCostsView>> RunAsync(
        JobCostId id,
        ReadOnlyMemory<byte> file,
        Envelope envelope,
        CancellationToken ct
    )
    {
        if (!(await PaperFile.ReadAsync(images, file, "bill", ct)).TryGet(out var paper, out var failure))
        {
            return failure;
        }

        return await CostChange.RunAsync(
            runner,
            id,
            new { id, Sha256 = FileHash.Of(file.Span) },
            envelope,
            "cost.paperAttached",
            async (scope, cost) => cost.Attach(await files.StoreAsync(scope, paper.Content, paper.Type)),
            ct
        );
    }
}

/// <summary>What changes of a cost have in common.</summary>
internal static class CostChange
{
    public static Task<Outcome<JobCostsView>> RunAsync(
        CommandRunner runner,
        JobCostId id,
        object content,
        Envelope envelope,
        string eventType,
        Func<CommandScope, JobCost, Task<Outcome<Done>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<JobCostsView>(
            Permission.KeepCosts,
            envelope,
            content,
            async scope =>
            {
                if (await scope.Db.FindAsync<JobCost>([id], scope.Cancellation) is not { } cost)
                {
                    return Failure.Missing("cost");
                }

                if ((scope.Stale(cost) ?? (await act(scope, cost)).Failure) is { } failure)
                {
                    return failure;
                }

                Record(scope, cost, eventType);
                await scope.SaveAsync();
                return (await JobCostsView.OfAsync(scope.Db, cost.JobId, scope.Now, scope.Cancellation))!;
            },
            ct
        );

    public static void Record(CommandScope scope, JobCost cost, string eventType) =>
        scope.Record(
            new EventDraft(
                eventType,
                "cost",
                cost.Id.Value,
                cost.JobId,
                After: new
                {
                    cost.Kind,
                    cost.AmountMinor,
                    cost.TaxMinor,
                    cost.On,
                    cost.OperationCode,
                    cost.PaperHash,
                    cost.Counts,
                }
            )
        );
}
