using ShopFloor.Domain.Planning.JobShop;

namespace ShopFloor.Solvers.Tests;

/// <summary>Shops drawn at random for measuring.</summary>
public static class DrawnShops
{
    /// <summary>Jobs of 20 operations, each on one of 8 resources drawn evenly (the same one may come again) and for 15 to 480 minutes in quarter hours, drawn evenly.</summary>
    public static JobShopProblem Draw(int jobs, int seed)
    {
        var random = new Random(seed);
        return JobShopProblem
            .Create([
                .. Enumerable
                    .Range(0, jobs)
                    .Select(j => new JobShopJob(
                        $"J{j + 1}",
                        [
                            .. Enumerable
                                .Range(0, 20)
                                .Select(_ => new JobShopStep($"R{random.Next(8) + 1}", 15 * random.Next(1, 33))),
                        ]
                    )),
            ])
            .Value;
    }
}
