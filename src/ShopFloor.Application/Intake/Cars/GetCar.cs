using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

public sealed class GetCar(QueryRunner runner) : IUseCase
{
    public Task<Outcome<CarView>> RunAsync(CarId id, Actor actor, CancellationToken ct) =>
        runner.RunAsync<CarView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var car = await db.Set<Car>().SingleOrDefaultAsync(c => c.Id == id, ct);
                if (car is null)
                {
                    return Failure.Missing("car");
                }

                var owner = await db.Set<Customer>().SingleAsync(c => c.Id == car.CustomerId, ct);
                return CarView.Of(car, owner.Name);
            },
            ct
        );
}
