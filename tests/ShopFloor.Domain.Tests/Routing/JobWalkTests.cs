using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

public sealed class JobWalkTests
{
    [Fact]
    public void Random_taps_never_bring_a_job_into_a_forbidden_state()
    {
        Gen.Int[0, int.MaxValue - 1]
            .Sample(seed => Walk(new JobShop(route: RandomRoute(new Random(seed))), new Random(seed + 1)), iter: 300);
    }

    [Fact]
    public void Random_taps_on_the_shipped_route_never_bring_it_into_a_forbidden_state()
    {
        Gen.Int[0, int.MaxValue - 1].Sample(seed => Walk(new JobShop(), new Random(seed)), iter: 40);
    }

    private static void Walk(JobShop shop, Random random)
    {
        if (SequenceCheck.Run(PlanOf(shop), 5_000, TestContext.Current.CancellationToken).CanFinish != true)
        {
            return;
        }

        for (var step = 0; step < 60; step++)
        {
            shop.Pass(TimeSpan.FromSeconds(random.Next(90)));
            var code = shop.Job.Operations[random.Next(shop.Job.Operations.Count)].Code;
            var who = random.Next(2) == 0 ? JobShop.Mara : JobShop.Ivo;
            _ = random.Next(8) switch
            {
                0 or 1 => shop.Start(code, who),
                2 or 3 => shop.Finish(code, who),
                4 => shop.Stop(code, who),
                5 => shop.Undo(code),
                6 => shop.Job.Hold(code, HoldReason.Other, null, shop.Tap(who), shop.Facts),
                _ => shop.Job.Resume(code, random.Next(2) == 0, shop.Tap(who), shop.Facts),
            };
            Check(shop);
        }
    }

    private static void Check(JobShop shop)
    {
        foreach (var operation in shop.Job.Operations)
        {
            if (operation.BegunAt is not null)
            {
                Assert.All(operation.Route.After, code => Assert.True(shop.Job.Operation(code)!.IsOver));
            }

            Assert.Equal(operation.Progress == OperationProgress.InWork, operation.Running.Any());
            Assert.All(operation.Times, t => Assert.True(t.EndedAt is null || t.EndedAt >= t.StartedAt));
            if (operation.Progress == OperationProgress.InWork)
            {
                Assert.Empty(operation.Route.NeedsOpen.Except(operation.Route.Closes).Except(shop.Job.OpenWays));
            }
        }

        Assert.NotEqual(false, SequenceCheck.Run(PlanOf(shop), 5_000, TestContext.Current.CancellationToken).CanFinish);
    }

    /// <summary>What is left of the job, said in the check's own terms.</summary>
    private static SequencePlan PlanOf(JobShop shop)
    {
        var left = shop.Job.Operations.Where(o => !o.IsOver).ToList();
        return new SequencePlan(
            shop.Job.OpenWays,
            [
                .. left.Select(o => new SequenceOperation(
                    o.Code,
                    [.. o.Route.After.Where(a => left.Exists(l => l.Code == a))],
                    o.IsUnderWay ? [.. o.Route.NeedsOpen.Except(o.Route.Closes)] : o.Route.NeedsOpen,
                    o.IsUnderWay ? [] : o.Route.Closes,
                    o.Route.Opens
                )),
            ],
            []
        );
    }

    private static RouteOperation[] RandomRoute(Random random) =>
        [
            .. Enumerable
                .Range(0, random.Next(3, 8))
                .Select(i => new RouteOperation
                {
                    Code = $"{i}",
                    Title = $"Step {i}",
                    Phase = Phase.FinalWeld,
                    Skill = "welder",
                    Place = "bay",
                    After = [.. Enumerable.Range(0, i).Where(_ => random.Next(4) == 0).Select(j => $"{j}")],
                    NeedsOpen = Ways(random, 3),
                    Closes = Ways(random, 4),
                    Opens = Ways(random, 4),
                }),
        ];

    private static string[] Ways(Random random, int odds) =>
        [.. new[] { "o1", "o2", "x1" }.Where(_ => random.Next(odds) == 0)];
}
