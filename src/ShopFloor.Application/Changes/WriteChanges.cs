using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Writes a draft for a running job.</summary>
public sealed class DraftChange(CommandRunner runner, ChangePricer pricer) : IUseCase
{
    public sealed record Request(JobId Job, ChangeRequest Change);

    public Task<Outcome<ChangeView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ChangeView>(
            Permission.Quote,
            envelope,
            request,
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == request.Job, ct);
                return job is null
                    ? Failure.Missing("job")
                    : await KeepAsync(scope, pricer, job, request.Change, t => t, ct);
            },
            ct
        );

    /// <summary>Numbers, prices and keeps a draft within a command.</summary>
    internal static async Task<Outcome<ChangeView>> KeepAsync(
        CommandScope scope,
        ChangePricer pricer,
        Job job,
        ChangeRequest request,
        Func<ChangeTerms, ChangeTerms> finish,
        CancellationToken ct
    )
    {
        if (ChangeCommand.Over(job) is { } over)
        {
            return over;
        }

        if (request.ConditionFound is not null && await OpenConditionAsync(scope, job) is { } other)
        {
            return Failure.Because(
                "conditionOpen",
                $"{other} for the condition found is open already; edit or withdraw it before another one is made."
            );
        }

        var number = await scope.NextNumberAsync("CO");
        var priced = await pricer.PriceAsync(scope.Db, job, request, number, scope.Now, ct);
        if (!priced.TryGet(out var p, out var failure))
        {
            return failure;
        }

        var change = ChangeOrder.Draft(
            scope.NewId<ChangeOrderId>(),
            number,
            job.Id,
            finish(p.Terms),
            p.PriceBookId,
            p.Price,
            scope.Actor.Person,
            scope.Now
        );
        scope.Db.Add(change);
        scope.Record(ChangeCommand.Event("changeOrder.drafted", change));
        await scope.SaveAsync();
        return await ReadChanges.ViewAsync(scope.Db, change, ct);
    }

    private static async Task<string?> OpenConditionAsync(CommandScope scope, Job job) =>
        (
            await scope
                .Db.Set<ChangeOrder>()
                .AsNoTracking()
                .Where(c => c.JobId == job.Id && (c.State == ChangeState.Draft || c.State == ChangeState.Offered))
                .ToListAsync(scope.Cancellation)
        )
            .Find(c => c.Terms.Basis == ChangeBasis.ConditionFound)
            ?.Number;
}

/// <summary>Makes a draft from the condition that was found at the drop-off; nothing comes out until the customer has answered.</summary>
public sealed class DraftChangeFromDropOff(CommandRunner runner, ChangePricer pricer) : IUseCase
{
    public Task<Outcome<ChangeView>> RunAsync(JobId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ChangeView>(
            Permission.Quote,
            envelope,
            new { id },
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var dropOff = await scope.Db.Set<DropOff>().AsNoTracking().SingleOrDefaultAsync(d => d.JobId == id, ct);
                if (dropOff is null)
                {
                    return Failure.Because(
                        "dropOff",
                        "The car has not been booked in yet. Record the drop-off with the condition found first."
                    );
                }

                return await DraftChange.KeepAsync(
                    scope,
                    pricer,
                    job,
                    new ChangeRequest(
                        "At the drop-off the car was found otherwise than the quote assumed.",
                        ConditionFound: dropOff.ConditionFound.ToDictionary(f => f.Key, f => (string?)f.Value)
                    ),
                    terms =>
                        terms with
                        {
                            FromDropOff = true,
                            Holds =
                            [
                                .. job.Operations.Where(o => o.Phase > Phase.Intake && !o.IsOver).Select(o => o.Code),
                            ],
                        },
                    ct
                );
            },
            ct
        );
}

/// <summary>Changes a draft and prices it anew.</summary>
public sealed class EditChange(CommandRunner runner, ChangePricer pricer) : IUseCase
{
    public sealed record Request(ChangeOrderId Id, ChangeRequest Change);

    public Task<Outcome<ChangeView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        ChangeCommand.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            "changeOrder.edited",
            async (scope, change, job) =>
            {
                if (ChangeCommand.Over(job) is { } over)
                {
                    return over;
                }

                var priced = await pricer.PriceAsync(
                    scope.Db,
                    job,
                    request.Change,
                    change.Number,
                    scope.Now,
                    scope.Cancellation
                );
                return priced.Then(p =>
                    change.Edit(
                        p.Terms with
                        {
                            FromDropOff = change.Terms.FromDropOff && p.Terms.Basis == ChangeBasis.ConditionFound,
                        },
                        p.PriceBookId,
                        p.Price
                    )
                );
            },
            ct
        );
}
