using System.Globalization;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Demo;

/// <summary>One fabricator's days: always the oldest car on which something can be done, within opening hours, each operation a little faster or slower than estimated.</summary>
internal sealed class DemoFabricator(
    DemoWorld world,
    DemoInspector inspector,
    DemoFireWatch fireWatch,
    DemoRemovedParts parts,
    DemoMaterials materials,
    string person,
    IReadOnlyList<DemoJob> allJobs
)
{
    private static readonly TimeSpan Pause = TimeSpan.FromHours(1);
    private static readonly TimeSpan ShortestWork = TimeSpan.FromMinutes(5);

    private readonly List<DemoJob> jobs =
    [
        .. allJobs.Where(j => j.Data.Work?.Fabricator == person).OrderBy(j => j.Data.Work!.Day),
    ];

    public async IAsyncEnumerable<DateTimeOffset> WorkAsync()
    {
        var at = world.Now;
        while (true)
        {
            at = world.Calendar.WhenOpen(at);
            yield return at;
            if (await NextAsync() is not var (job, operation))
            {
                at += Pause;
                continue;
            }

            var happening =
                operation.Skill == DemoInspector.Skill
                    ? inspector.InspectAsync(job, operation.Code)
                    : DoAsync(job, operation);
            await foreach (var moment in happening)
            {
                yield return moment;
            }

            at = world.Now;
        }
    }

    /// <summary>Brings the operation that is under way today into the state the story tells.</summary>
    public static async IAsyncEnumerable<DateTimeOffset> StandNowAsync(
        DemoWorld world,
        DemoFireWatch fireWatch,
        DemoJob job
    )
    {
        var (work, now) = (job.Data.Work!, job.Data.Work!.Now!);
        yield return world.End - TimeSpan.FromMinutes(55);
        await foreach (var moment in fireWatch.PermitAsync(job, now.Operation, work.Fabricator))
        {
            yield return moment;
        }

        var by = world.By(work.Fabricator);
        await Do(job, world.Use<StartOperation>().RunAsync(job.Id!.Value, now.Operation, by, default));
        if (now.State == "onHold")
        {
            yield return world.End - TimeSpan.FromMinutes(25);
            var reason = new HoldOperation.Request("defectFound", now.Reason);
            await Do(job, world.Use<HoldOperation>().RunAsync(job.Id!.Value, now.Operation, reason, by, default));
            fireWatch.Begin();
        }
    }

    private async Task<(DemoJob Job, OperationView Operation)?> NextAsync()
    {
        foreach (var job in jobs.Where(j => j.MayBegin && !j.IsThrough))
        {
            var view = await world.LookAsync(job);
            var wanted = view.Operations.Where(o => Number(o.Code) <= Number(job.Data.Work!.Until)).ToList();
            job.IsThrough = wanted.TrueForAll(o => o.State == OperationState.Done);
            if (wanted.Find(o => o.State == OperationState.Ready) is { } ready)
            {
                return (job, ready);
            }

            if (wanted.Find(DemoFireWatch.WaitsForPermit) is { } hot && !await fireWatch.IsPaintDueAsync(allJobs))
            {
                return (job, hot);
            }
        }

        return null;
    }

    private async IAsyncEnumerable<DateTimeOffset> DoAsync(DemoJob job, OperationView operation)
    {
        var (id, code, by) = (job.Id!.Value, operation.Code, world.By(person));
        await foreach (var moment in fireWatch.PermitAsync(job, code, person))
        {
            yield return moment;
        }

        await Do(job, world.Use<StartOperation>().RunAsync(id, code, by, default));
        if (job.Data.Work!.Holds?.FirstOrDefault(h => h.Operation == code) is { } hold && job.HeldOnce.Add(code))
        {
            yield return world.Now + TimeSpan.FromMinutes(40);
            var reason = new HoldOperation.Request("materialMissing", hold.Reason);
            await Do(job, world.Use<HoldOperation>().RunAsync(id, code, reason, by, default));
            fireWatch.Begin();
            yield return world.Calendar.WhenOpen(world.Now + TimeSpan.FromHours(hold.Hours));
            await foreach (var moment in fireWatch.PermitAsync(job, code, person))
            {
                yield return moment;
            }

            await Do(job, world.Use<ResumeOperation>().RunAsync(id, code, new(true), by, default));
        }

        var left = TimeFor(operation);
        while (left > TimeSpan.Zero)
        {
            var from = world.Now;
            var closing = world.Calendar.Closing(from);
            var until = from + left < closing ? from + left : closing;
            yield return until;
            left -= until - from;
            if (left > TimeSpan.Zero)
            {
                await Do(job, world.Use<StopOperation>().RunAsync(id, code, by, default));
                fireWatch.Begin();
                yield return world.Calendar.WhenOpen(until);
                await foreach (var moment in fireWatch.PermitAsync(job, code, person))
                {
                    yield return moment;
                }

                await Do(job, world.Use<StartOperation>().RunAsync(id, code, by, default));
            }
        }

        await Do(job, world.Use<FinishOperation>().RunAsync(id, code, by, default));
        fireWatch.Begin();
        await parts.FollowAsync(job, code, person);
        await materials.FollowAsync(job, code, person);
        await foreach (var moment in inspector.LookAtAsync(job, code))
        {
            yield return moment;
        }
    }

    /// <summary>From four fifths to a good third more than estimated, to the minute.</summary>
    private TimeSpan TimeFor(OperationView operation)
    {
        var minutes = Math.Round((double)(operation.EstimatedHours ?? 0.5m) * 60 * (0.8 + (0.55 * world.Chance())));
        var time = TimeSpan.FromMinutes(minutes);
        return time > ShortestWork ? time : ShortestWork;
    }

    private static int Number(string code) => int.Parse(code, CultureInfo.InvariantCulture);

    private static Task<OperationChanged> Do(DemoJob job, Task<Outcome<OperationChanged>> task) =>
        DemoWorld.DoAsync(task, job.Data.Key);
}
