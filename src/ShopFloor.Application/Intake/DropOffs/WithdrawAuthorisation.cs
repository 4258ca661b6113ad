using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>Takes the authorisation back; operations that wait for it wait again, what was done stays done.</summary>
public sealed class WithdrawAuthorisation(CommandRunner runner) : IUseCase
{
    public Task<Outcome<DropOffView>> RunAsync(JobId jobId, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            new { jobId },
            async scope =>
            {
                var dropOff = await scope.Db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                if (dropOff is null)
                {
                    return Failure.Missing("drop-off of this job");
                }

                if (await OpenJobs.RefuseAsync(scope, jobId) is { } refused)
                {
                    return refused;
                }

                if (scope.Stale(dropOff) is { } stale)
                {
                    return stale;
                }

                if (!dropOff.WithdrawAuthorisation().TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(new EventDraft("work.authorisationWithdrawn", "dropOff", dropOff.Id.Value, jobId));
                await scope.SaveAsync();
                return Outcome<DropOffView>.Success(DropOffView.Of(dropOff));
            },
            ct
        );
}
