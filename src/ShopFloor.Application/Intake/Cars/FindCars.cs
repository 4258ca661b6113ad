using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Cars;

/// <summary>Lists cars, newest first; each word of the search must be found in the car's or its customer's search text.</summary>
public sealed class FindCars(QueryRunner runner) : IUseCase
{
    public Task<Outcome<Page<CarView>>> RunAsync(
        string? search,
        CustomerId? customerId,
        PageRequest page,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<Page<CarView>>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                var rows = db.Set<Car>()
                    .Join(db.Set<Customer>(), c => c.CustomerId, o => o.Id, (car, owner) => new { car, owner });
                if (customerId is { } only)
                {
                    rows = rows.Where(r => r.car.CustomerId == only);
                }

                foreach (var word in SearchWords.Of(search))
                {
                    rows = rows.Where(r => r.car.SearchText.Contains(word) || r.owner.SearchText.Contains(word));
                }

                return await page.CutAsync(
                    rows.OrderByDescending(r => r.car.RegisteredAt).ThenBy(r => r.car.Id),
                    r => CarView.Of(r.car, r.owner.Name),
                    ct
                );
            },
            ct
        );
}
