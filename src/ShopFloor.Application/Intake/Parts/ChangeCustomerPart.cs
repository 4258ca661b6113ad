using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>Another name or another day for a part that is still awaited.</summary>
public sealed class ChangeCustomerPart(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerPartView>> RunAsync(
        CustomerPartId id,
        CustomerPartInput request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        CustomerPartCommand.RunAsync(
            runner,
            id,
            "customerPart.changed",
            request,
            envelope,
            (part, _, today) => part.Change(request.Details, today),
            ct
        );
}
