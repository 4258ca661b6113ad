using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>The parts of a job, by the day they are due.</summary>
public sealed class ListCustomerParts(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<CustomerPartView>>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<IReadOnlyList<CustomerPartView>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (!await OpenJobs.ExistsAsync(db, jobId, ct))
                {
                    return Failure.Missing("job");
                }

                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                var parts = await db.Set<CustomerPart>().Where(p => p.JobId == jobId).ToListAsync(ct);
                return Outcome<IReadOnlyList<CustomerPartView>>.Success([
                    .. parts.OrderBy(p => p.DueOn).ThenBy(p => p.Id.Value).Select(p => CustomerPartView.Of(p, today)),
                ]);
            },
            ct
        );
}
