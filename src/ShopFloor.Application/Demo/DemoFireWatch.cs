using ShopFloor.Application.HotWork;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Demo;

/// <summary>The demo shop's permits: opened before the first spark of a shift, watched after the last, closed by the watcher.</summary>
internal sealed class DemoFireWatch(DemoWorld world, DemoAgenda agenda)
{
    private static readonly TimeSpan AfterTheWatch = TimeSpan.FromMinutes(FireWatch.UsualMinutes + 3);
    private static readonly TimeSpan Wait = TimeSpan.FromMinutes(15);

    /// <summary>The trainee watches at the cars, the front desk at the bench: a watcher has no second place.</summary>
    private static string WatcherAt(string place) => HotPlace.HoldsCar(place) ? "nils" : "ines";

    /// <summary>Nothing but a permit is missing.</summary>
    public static bool WaitsForPermit(OperationView operation) =>
        operation.State == OperationState.Waiting
        && operation.Reasons.Count > 0
        && operation.Reasons.All(r => r.Code is "permit" or "fumes");

    /// <summary>Somebody waits with paint until the sparks are over: no new permit is opened before.</summary>
    public async Task<bool> IsPaintDueAsync(IReadOnlyList<DemoJob> jobs)
    {
        foreach (var job in jobs.Where(j => j.MayBegin && !j.IsThrough && j.Data.Work is not null))
        {
            var view = await world.LookAsync(job);
            if (
                view.Operations.Any(o =>
                    o.State == OperationState.Waiting
                    && o.Reasons.Count > 0
                    && o.Reasons.All(r => r.Code == "fireWatch")
                    && string.CompareOrdinal(o.Code.PadLeft(4), job.Data.Work!.Until.PadLeft(4)) <= 0
                )
            )
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Sees to it that hot work may begin, and waits while paint is in work.</summary>
    public async IAsyncEnumerable<DateTimeOffset> PermitAsync(DemoJob job, string code, string person)
    {
        while (true)
        {
            var operation = (await world.LookAsync(job)).Operations.First(o => o.Code == code);
            if (!operation.HotWork || operation.Gates.Any(g => g is { Kind: "permit", IsMet: true }))
            {
                yield break;
            }

            var opened = await world
                .Use<OpenPermit>()
                .RunAsync(Request(job, operation.Place), world.By(person), CancellationToken.None);
            if (opened.Failure is Failure.Refused refused && refused.Reasons.All(r => r.Code == "paintInWork"))
            {
                yield return world.Now + Wait;
                continue;
            }

            await DemoWorld.DoAsync(Task.FromResult(opened), job.Data.Key);
            yield break;
        }
    }

    /// <summary>Hot work has stopped: some time after, the watchers look once more and close what is over.</summary>
    public void Begin() => agenda.Add(LookAfterwardsAsync());

    private async IAsyncEnumerable<DateTimeOffset> LookAfterwardsAsync()
    {
        yield return world.Now + AfterTheWatch;
        var permits = await DemoWorld.DoAsync(
            world.Use<ReadPermits>().UnclosedAsync(Actor.System, CancellationToken.None),
            "fire watch"
        );
        foreach (var permit in permits.Where(p => p.State == "watchOver"))
        {
            await DemoWorld.DoAsync(
                world
                    .Use<ClosePermit>()
                    .RunAsync(permit.Id, new(true), world.By(WatcherAt(permit.Place)), CancellationToken.None),
                permit.Number
            );
        }
    }

    private OpenPermit.Request Request(DemoJob job, string place)
    {
        var hasCar = job.Data.Car is not null && HotPlace.HoldsCar(place);
        var hours = Math.Ceiling((world.Calendar.Closing(world.Now) - world.Now).TotalHours);
        return new OpenPermit.Request(
            place,
            hasCar ? job.Id!.Value.Value : null,
            world.People[WatcherAt(place)].Person!.Value.Value,
            ShiftHours: (int)Math.Clamp(hours, 1, FireWatch.UsualShiftHours + 1),
            Answers:
            [
                .. PermitPoint.All.Select(p =>
                    p.OfCar && !hasCar ? new PermitAnswer(p.Code, PointFinding.NotHere)
                    : p.Code == "fuel" && job.Data.Assumed.GetValueOrDefault("tank") == "stays-fitted"
                        ? new PermitAnswer(p.Code, PointFinding.Assessed, "Fuel system fitter, see operation 25")
                    : new PermitAnswer(p.Code, PointFinding.Done)
                ),
            ]
        );
    }
}
