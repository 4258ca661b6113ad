using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>What the three changes of a part have in common: find it, change it, remember it.</summary>
internal static class CustomerPartCommand
{
    public static Task<Outcome<CustomerPartView>> RunAsync(
        CommandRunner runner,
        CustomerPartId id,
        string eventType,
        object? content,
        Envelope envelope,
        Func<CustomerPart, CommandScope, DateOnly, Outcome<Done>> change,
        CancellationToken ct
    ) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            content,
            async scope =>
            {
                var part = await scope.Db.Set<CustomerPart>().SingleOrDefaultAsync(p => p.Id == id, ct);
                if (part is null)
                {
                    return Failure.Missing("customer part");
                }

                if (scope.Stale(part) is { } stale)
                {
                    return stale;
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var before = PartTrace.Of(part);
                if (!change(part, scope, today).TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(eventType, "customerPart", part.Id.Value, part.JobId, before, PartTrace.Of(part))
                );
                await scope.SaveAsync();
                return Outcome<CustomerPartView>.Success(CustomerPartView.Of(part, today));
            },
            ct
        );
}
