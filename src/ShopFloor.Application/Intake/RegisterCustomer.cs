using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake;

/// <summary>Adds a customer.</summary>
public sealed class RegisterCustomer(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CustomerView>> RunAsync(CustomerDetails details, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<CustomerView>(
            Permission.KeepCustomers,
            envelope,
            details,
            async scope =>
            {
                if (
                    !Customer
                        .Register(scope.NewId<CustomerId>(), details, scope.Now)
                        .TryGet(out var customer, out var failure)
                )
                {
                    return failure;
                }

                scope.Db.Add(customer);
                scope.Record(new EventDraft("customer.registered", "customer", customer.Id.Value));
                await scope.SaveAsync();
                return CustomerView.Of(customer);
            },
            ct
        );
}
