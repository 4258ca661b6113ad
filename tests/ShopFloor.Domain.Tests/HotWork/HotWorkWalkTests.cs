using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.HotWork;

/// <summary>Whatever people tap in whatever order: no watch ends early, and sparks never meet paint.</summary>
public sealed class HotWorkWalkTests
{
    [Fact]
    public void No_order_of_taps_closes_a_watch_early_or_brings_sparks_and_paint_together() =>
        Gen.Int[0, int.MaxValue - 1].Sample(seed => new Walk(new Random(seed)).Run(), iter: 400);

    [Fact]
    public void Hot_work_waits_for_a_permit_and_its_stop_begins_the_watch()
    {
        var shop = new JobShop(route: [Hot("1")]) { HotWork = HotWorkFacts.None };
        Assert.Equal("permit", JobShop.Refusal(shop.Start("1")).Code);
        Assert.Equal("permit", JobShop.Refusal(shop.Finish("1")).Code);
        var permit = HotWorkShop.Open(shop.Now, shop.Job.Id);
        shop.HotWork = new HotWorkFacts([permit], []);
        Assert.True(shop.Start("1").IsSuccess);
        shop.HotWork.Follow(shop.Job, null, shop.Now);
        Assert.IsType<PermitStanding.HotWork>(permit.Standing(shop.Now));
        shop.Pass(TimeSpan.FromMinutes(20));
        Assert.True(shop.Stop("1").IsSuccess);
        shop.HotWork.Follow(shop.Job, null, shop.Now);
        Assert.Equal(new PermitStanding.Watch(shop.Now, shop.Now.AddMinutes(60)), permit.Standing(shop.Now));
    }

    [Fact]
    public void A_permit_for_one_car_is_no_leave_to_weld_on_another()
    {
        var shop = new JobShop(route: [Hot("1")]);
        var other = JobId.From(new Guid("00000000-0000-7000-8000-0000000000c9"));
        shop.HotWork = new HotWorkFacts([HotWorkShop.Open(shop.Now, other), HotWorkShop.Open(shop.Now, null)], []);
        Assert.Equal("permit", JobShop.Refusal(shop.Start("1")).Code);
    }

    [Fact]
    public void The_fire_watcher_takes_up_no_work()
    {
        var shop = new JobShop(route: [Hot("1"), Hot("2") with { HotWork = false, Caution = null }]);
        shop.HotWork = new HotWorkFacts([HotWorkShop.Open(shop.Now, shop.Job.Id)], []);
        foreach (var code in new[] { "1", "2" })
        {
            Assert.Equal("watcherHasNoOtherDuty", JobShop.Refusal(shop.Start(code, HotWorkShop.Watcher)).Code);
            Assert.Equal("watcherHasNoOtherDuty", JobShop.Refusal(shop.Finish(code, HotWorkShop.Watcher)).Code);
        }

        Assert.True(shop.Start("2").IsSuccess);
    }

    [Fact]
    public void A_start_of_hot_work_that_was_kept_back_on_a_device_is_refused()
    {
        var shop = new JobShop(route: [Hot("1")]);
        var kept = shop.Tap() with { At = shop.Now - FireWatch.LatestStart - TimeSpan.FromMilliseconds(1) };
        Assert.Equal("hotWorkLate", JobShop.Refusal(shop.Job.Start("1", kept, shop.Facts)).Code);
        Assert.True(shop.Job.Start("1", kept with { At = shop.Now - FireWatch.LatestStart }, shop.Facts).IsSuccess);
    }

    [Fact]
    public void Nobody_joins_hot_work_after_the_permits_shift()
    {
        var shop = new JobShop(route: [Hot("1")]);
        shop.HotWork = new HotWorkFacts([HotWorkShop.Open(shop.Now, shop.Job.Id)], []);
        Assert.True(shop.Start("1").IsSuccess);
        shop.Pass(TimeSpan.FromHours(9));
        Assert.Equal("permit", JobShop.Refusal(shop.Start("1", JobShop.Ivo)).Code);
    }

    private static RouteOperation Hot(string code) =>
        new()
        {
            Code = code,
            Title = $"Step {code}",
            Phase = Phase.FinalWeld,
            Skill = "welder",
            Place = "bay",
            HotWork = true,
            Caution = "Hot.",
        };

    private sealed class Walk(Random random)
    {
        private readonly JobShop shop = new(
            route: [Hot("1"), Hot("2"), Hot("3") with { HotWork = false, PaintOrSolvent = true }]
        );
        private readonly List<HotWorkPermit> permits = [];
        private DateTimeOffset? lastSpark;

        public void Run()
        {
            for (var step = 0; step < 80; step++)
            {
                shop.Pass(TimeSpan.FromMinutes(random.Next(45)));
                var wasHot = IsHot;
                shop.HotWork = Facts();
                Act();
                if (wasHot || IsHot)
                {
                    lastSpark = shop.Now;
                }

                Check();
            }
        }

        private bool IsHot => Running(o => o.Route.HotWork);
        private bool IsPainted => Running(o => o.Route.PaintOrSolvent);

        private bool Running(Func<Operation, bool> of) =>
            shop.Job.Operations.Any(o => of(o) && o.Progress == OperationProgress.InWork);

        private HotWorkFacts Facts() =>
            new(
                [.. permits.Where(p => !p.IsClosed)],
                [
                    .. shop
                        .Job.Operations.Where(o => o.Route.PaintOrSolvent && o.Progress == OperationProgress.InWork)
                        .Select(o => new PaintUnderWay(shop.Job.Id, "J-2026-0001", o.Code, o.Title, [o.Place])),
                ]
            );

        private void Act()
        {
            var code = $"{random.Next(1, 4)}";
            var who = random.Next(3) switch
            {
                0 => JobShop.Mara,
                1 => JobShop.Ivo,
                _ => HotWorkShop.Watcher,
            };
            switch (random.Next(9))
            {
                case 0:
                    var opening = HotWorkShop.Opening(
                        shop.Job.Id,
                        number: permits.Count + 1,
                        paint: shop.HotWork!.Paint
                    );
                    if (HotWorkPermit.Open(opening, 60, shop.Now).TryGet(out var opened, out _))
                    {
                        permits.Add(opened);
                    }

                    return;
                case 1 when permits.Count > 0:
                    permits[random.Next(permits.Count)]
                        .Close(random.Next(4) == 0 ? JobShop.Mara : HotWorkShop.Watcher, true, null, shop.Now, _ => "");
                    return;
                case 2 or 3:
                    Tapped(shop.Start(code, who));
                    return;
                case 4:
                    Tapped(shop.Stop(code, who));
                    return;
                case 5 when random.Next(4) == 0:
                    Tapped(shop.Finish(code, who));
                    return;
                case 6:
                    Tapped(shop.Undo(code));
                    return;
                case 7:
                    Tapped(shop.Job.Hold(code, HoldReason.Other, null, shop.Tap(who), shop.Facts));
                    return;
                default:
                    Tapped(shop.Job.Resume(code, random.Next(2) == 0, shop.Tap(who), shop.Facts));
                    return;
            }
        }

        private void Tapped(Outcome<Operation> outcome)
        {
            if (!outcome.IsSuccess)
            {
                return;
            }

            var done = outcome.Value;
            var unbegun = done.BegunByFinish && done.FinishRecordedAt == shop.Now ? done : null;
            if (unbegun is { Route.HotWork: true })
            {
                lastSpark = shop.Now;
            }

            shop.HotWork!.Follow(shop.Job, unbegun, shop.Now);
        }

        private void Check()
        {
            Assert.False(IsHot && IsPainted, "Sparks and paint at once.");
            if (IsHot)
            {
                Assert.Contains(permits, p => p.Standing(shop.Now) is PermitStanding.HotWork);
            }

            if (IsPainted)
            {
                Assert.All(permits, p => Assert.True(p.IsClosed, "Paint beside an open permit."));
            }

            // While a watch is due, some permit of the place is unclosed.
            if (lastSpark is { } spark && shop.Now < spark.AddMinutes(60))
            {
                Assert.Contains(permits, p => !p.IsClosed);
            }

            Assert.All(
                permits.Where(p => p.IsClosed),
                p => Assert.True(p.LastSparkAt is null || p.ClosedAt >= p.LastSparkAt.Value.AddMinutes(60))
            );
        }
    }
}
