using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>Notes that the customer will bring something, and when.</summary>
public sealed class PromiseCustomerPart(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerPartView>> RunAsync(
        JobId jobId,
        CustomerPartInput request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            request,
            async scope =>
            {
                if (await OpenJobs.RefuseAsync(scope, jobId) is { } refused)
                {
                    return refused;
                }

                var count = await scope.Db.Set<CustomerPart>().CountAsync(p => p.JobId == jobId, ct);
                if (count >= CustomerPart.MostOfJob)
                {
                    return Failure.Because(
                        "tooManyParts",
                        $"This job has {count} customer parts already; put several things into one line."
                    );
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var promised = CustomerPart.Promise(scope.NewId<CustomerPartId>(), jobId, request.Details, today);
                if (!promised.TryGet(out var part, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(part);
                scope.Record(
                    new EventDraft(
                        "customerPart.promised",
                        "customerPart",
                        part.Id.Value,
                        jobId,
                        After: PartTrace.Of(part)
                    )
                );
                await scope.SaveAsync();
                return Outcome<CustomerPartView>.Success(CustomerPartView.Of(part, today));
            },
            ct
        );
}
