using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>Replaces a car's details; another customer means that it was sold.</summary>
public sealed class ChangeCar(CommandRunner runner) : IUseCase
{
    public Task<Outcome<CarView>> RunAsync(CarId id, CarInput request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.KeepCustomers,
            envelope,
            request,
            async scope =>
            {
                var car = await scope.Db.Set<Car>().SingleOrDefaultAsync(c => c.Id == id, ct);
                if (car is null)
                {
                    return Failure.Missing("car");
                }

                if (scope.Stale(car) is { } stale)
                {
                    return stale;
                }

                var errors = new FieldErrors();
                var owner = await Owners.FindAsync(scope, request.CustomerId ?? car.CustomerId, errors);
                var before = CarTrace.Of(car);
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                errors.Take(car.Change(request.Details(car.Facts), today));
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                car.MoveTo(owner!.Id);
                scope.Record(
                    new EventDraft("car.changed", "car", car.Id.Value, Before: before, After: CarTrace.Of(car))
                );
                await scope.SaveAsync();
                return Outcome<CarView>.Success(CarView.Of(car, owner.Name));
            },
            ct
        );
}
