using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Intake.Parts;

/// <summary>The part is not coming any more: nothing waits for it.</summary>
public sealed class DropCustomerPart(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerPartView>> RunAsync(CustomerPartId id, Envelope envelope, CancellationToken ct) =>
        CustomerPartCommand.RunAsync(
            runner,
            id,
            "customerPart.dropped",
            new { id },
            envelope,
            (part, _, _) => part.Drop(),
            ct
        );
}
