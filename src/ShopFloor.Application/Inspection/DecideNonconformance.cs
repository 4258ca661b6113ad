using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>What all changes of a nonconformance have in common: load, refuse a stale one, act, record, show.</summary>
public sealed class NonconformanceChange(CommandRunner runner) : IUseCase
{
    internal sealed record Asked(CommandScope Scope, Job Job, JobInspection Inspection);

    internal Task<Outcome<NonconformanceView>> RunAsync(
        Permission permission,
        JobId id,
        object content,
        string what,
        Func<Asked, Task<Outcome<Nonconformance>>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<NonconformanceView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                var job = await SignOffFacts.JobAsync(scope.Db, id, scope.Cancellation);
                var inspection = await scope.Db.InspectionAsync(id, scope.Cancellation);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                if ((InspectionLoading.Over(job) ?? scope.Stale(inspection)) is { } refused)
                {
                    return refused;
                }

                if (!(await act(new Asked(scope, job, inspection))).TryGet(out var fault, out var failure))
                {
                    return failure;
                }

                scope.Db.Touch(inspection);
                scope.Record(NonconformanceViews.EventOf(fault, what));
                await scope.SaveAsync();
                var names = await InspectionView.NamesAsync(scope.Db, [inspection], scope.Cancellation);
                return NonconformanceViews.Of(fault, names);
            },
            ct
        );
}

/// <summary>Says what a fault is, its cause, and adds photos.</summary>
public sealed class DescribeNonconformance(NonconformanceChange change) : IUseCase
{
    /// <param name="Description">Absent: as it is.</param>
    /// <param name="Cause">material, preparation, fitUp, welding, heat, measuring, instruction, damage, customerPart or other; absent: as it is.</param>
    /// <param name="PhotoIds">Photos of this job, added to those there are.</param>
    public sealed record Request(
        string? Description = null,
        FaultCause? Cause = null,
        IReadOnlyList<Guid>? PhotoIds = null
    );

    public Task<Outcome<NonconformanceView>> RunAsync(
        JobId id,
        int number,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.Inspect,
            id,
            new
            {
                id,
                number,
                request,
            },
            "described",
            async asked =>
            {
                PhotoId[] photos = [.. (request.PhotoIds ?? []).Distinct().Select(PhotoId.From)];
                var own = await asked
                    .Scope.Db.Set<Photo>()
                    .CountAsync(p => p.JobId == id && photos.Contains(p.Id) && p.RemovedAt == null, ct);
                return own == photos.Length
                    ? asked.Inspection.DescribeNonconformance(
                        number,
                        request.Description,
                        request.Cause,
                        photos,
                        asked.Scope.Now
                    )
                    : Failure.Field(
                        "photoIds",
                        "A photo named here does not belong to this job. Add it to the job first."
                    );
            },
            envelope,
            ct
        );
}

/// <summary>Decides what is done about a fault. Rework is put on the route in the same step.</summary>
public sealed class DecideNonconformance(NonconformanceChange change) : IUseCase
{
    /// <param name="Disposition">rework, accept (the owner only) or reject.</param>
    /// <param name="Reason">Why; for rework what is done.</param>
    /// <param name="Operation">For rework: the operation that is mended; absent for the line's own.</param>
    /// <param name="Title">For rework: the operation's title; absent for "Mend: …".</param>
    public sealed record Request(
        Disposition? Disposition = null,
        string? Reason = null,
        string? Operation = null,
        string? Title = null
    );

    public Task<Outcome<NonconformanceView>> RunAsync(
        JobId id,
        int number,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            request.Disposition == Disposition.Accept ? Permission.AcceptNonconformances : Permission.OrderRework,
            id,
            new
            {
                id,
                number,
                request,
            },
            "decided",
            asked =>
                Task.FromResult(
                    request.Disposition is { } disposition
                        ? Decide(asked, number, disposition, request)
                        : Failure.Field("disposition", "The disposition is rework, accept or reject.")
                ),
            envelope,
            ct
        );

    private static Outcome<Nonconformance> Decide(
        NonconformanceChange.Asked asked,
        int number,
        Disposition disposition,
        Request request
    )
    {
        var (scope, job, inspection) = asked;
        if (!inspection.Decidable(number, scope.Actor.Person).TryGet(out var fault, out var failure))
        {
            return failure;
        }

        string? code = null;
        if (disposition == Disposition.Rework)
        {
            var rework = new AddRework.Request(
                string.IsNullOrWhiteSpace(request.Operation) ? fault.OperationCode : request.Operation,
                string.IsNullOrWhiteSpace(request.Title) ? Title(fault) : request.Title,
                request.Reason
            );
            if (!AddRework.Put(scope, job, rework).TryGet(out var put, out failure))
            {
                return failure;
            }

            code = put.Operation.Code;
            scope.Db.Touch(job);
            scope.Record(put.Event);
        }

        return inspection.DecideNonconformance(
            number,
            disposition,
            request.Reason,
            code,
            scope.Actor.Person,
            scope.Now
        );
    }

    private static string Title(Nonconformance fault)
    {
        var title = $"Mend: {fault.What}";
        return title.Length <= TextRules.ShortText ? title : title[..TextRules.ShortText];
    }
}
