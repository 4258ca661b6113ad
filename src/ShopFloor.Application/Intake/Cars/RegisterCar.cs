using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>Adds a car of a customer.</summary>
public sealed class RegisterCar(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CarView>> RunAsync(CarInput request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.KeepCustomers,
            envelope,
            request,
            async scope =>
            {
                var errors = new FieldErrors();
                var owner = await Owners.FindAsync(scope, request.CustomerId, errors);
                var shop = await scope.ShopAsync();
                var registered = Car.Register(
                    scope.NewId<CarId>(),
                    owner?.Id ?? default,
                    request.Details(Car.UnknownFacts),
                    shop.LocalDay(scope.Now),
                    scope.Now
                );
                errors.Take(registered);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var car = registered.Value;
                scope.Db.Add(car);
                scope.Record(new EventDraft("car.registered", "car", car.Id.Value, After: CarTrace.Of(car)));
                await scope.SaveAsync();
                return Outcome<CarView>.Success(CarView.Of(car, owner!.Name));
            },
            ct
        );
}

/// <summary>What the history keeps of a car: figures and codes; neither registration nor chassis number, which lead to a person.</summary>
internal sealed record CarTrace(CustomerId CustomerId, int ModelYear, int? OdometerKm, CarFacts Facts)
{
    public static CarTrace Of(Car car) => new(car.CustomerId, car.ModelYear, car.OdometerKm, car.Facts);
}

internal static class Owners
{
    /// <summary>The customer a car is to belong to; adds a sentence where there is none.</summary>
    public static async Task<Customer?> FindAsync(CommandScope scope, CustomerId? id, FieldErrors errors)
    {
        if (id is null)
        {
            errors.Add("customerId", "Say whose car it is.");
            return null;
        }

        var customer = await scope.Db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, scope.Cancellation);
        errors.AddIf(customer is null, "customerId", "There is no such customer. Register the customer first.");
        errors.AddIf(
            customer?.ErasedAt is not null,
            "customerId",
            "This customer's personal data was erased. Register the customer anew."
        );
        return customer;
    }
}
