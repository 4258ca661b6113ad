using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake;

/// <summary>Replaces a customer's details.</summary>
public sealed class ChangeCustomer(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerView>> RunAsync(
        CustomerId id,
        CustomerDetails details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<CustomerView>(
            Permission.KeepCustomers,
            envelope,
            details,
            async scope =>
            {
                var customer = await scope.Db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, scope.Cancellation);
                if (customer is null)
                {
                    return Failure.Missing("customer");
                }

                if ((scope.Stale(customer) ?? customer.Change(details).Failure) is { } failure)
                {
                    return failure;
                }

                scope.Record(new EventDraft("customer.changed", "customer", id.Value));
                await scope.SaveAsync();
                return CustomerView.Of(customer);
            },
            ct
        );
}
