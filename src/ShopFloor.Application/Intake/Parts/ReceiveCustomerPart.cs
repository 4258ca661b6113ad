using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>The part is here.</summary>
public sealed class ReceiveCustomerPart(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerPartView>> RunAsync(CustomerPartId id, Envelope envelope, CancellationToken ct) =>
        CustomerPartCommand.RunAsync(
            runner,
            id,
            "customerPart.arrived",
            new { id },
            envelope,
            (part, scope, _) => part.Arrive(scope.OccurredAt),
            ct
        );
}
