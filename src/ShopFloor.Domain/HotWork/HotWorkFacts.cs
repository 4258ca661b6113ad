using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.HotWork;

/// <summary>An operation with paint or solvent that somebody is on.</summary>
/// <param name="Places">Where it may be done: one place where that is known.</param>
public sealed record PaintUnderWay(
    JobId Job,
    string JobNumber,
    string Code,
    string Title,
    IReadOnlyList<string> Places
);

/// <summary>Hot work of an operation began, or stopped so that the watch began.</summary>
public sealed record HotWorkStep(HotWorkPermit Permit, string Code, bool IsStop);

/// <summary>What is known of hot work and of paint in the whole shop at one moment.</summary>
/// <param name="Unclosed">Permits that no watcher has closed yet.</param>
/// <param name="Paint">Paint and solvent in work.</param>
public sealed record HotWorkFacts(IReadOnlyList<HotWorkPermit> Unclosed, IReadOnlyList<PaintUnderWay> Paint)
{
    public static HotWorkFacts None { get; } = new([], []);

    /// <summary>The shop's places.</summary>
    public ShopPlaces Places { get; init; } = ShopPlaces.Usual;

    /// <summary>The permit under which this operation may begin now; null where there is none.</summary>
    public HotWorkPermit? Covering(Job job, Operation operation, DateTimeOffset now) =>
        Places.Possible(job, operation.Place) is [var place]
            ? Unclosed
                .Where(p => p.Covers(job.Id, job.HasCarHere && Places.HoldsCar(place), place, now))
                .MaxBy(p => p.ValidUntil)
            : null;

    /// <summary>The permit that this person watches, which is a duty that allows no other; null where they are free.</summary>
    public HotWorkPermit? WatchedBy(PersonId? person) =>
        person is { } someone ? Unclosed.FirstOrDefault(p => p.Watcher == someone && !p.IsClosed) : null;

    /// <summary>Brings the permits in step with what happens on the job: hot work that began or stopped is noted at the server's time. Doing it twice changes nothing.</summary>
    /// <param name="job">As it is after the tap.</param>
    /// <param name="finishedUnbegun">An operation that was finished straight away by this tap, if one was.</param>
    /// <param name="now">The server's time.</param>
    /// <returns>What was noted.</returns>
    public IReadOnlyList<HotWorkStep> Follow(Job job, Operation? finishedUnbegun, DateTimeOffset now)
    {
        var steps = new List<HotWorkStep>();
        foreach (var operation in job.Operations.Where(o => o.Route.HotWork))
        {
            var isHot = operation.Progress == OperationProgress.InWork;
            var noted = Unclosed.Where(p => p.Spells.Any(s => s.Operation == operation.Id && s.Until is null)).ToList();
            if (isHot && noted.Count == 0 && Covering(job, operation, now) is { } open)
            {
                open.Begin(operation, now);
                steps.Add(new HotWorkStep(open, operation.Code, IsStop: false));
            }

            foreach (var permit in noted.Where(_ => !isHot))
            {
                permit.Stop(operation.Id, now);
                steps.Add(new HotWorkStep(permit, operation.Code, IsStop: true));
            }
        }

        if (finishedUnbegun is { Route.HotWork: true } done && Covering(job, done, now) is { } under)
        {
            under.Note(done, now);
            steps.Add(new HotWorkStep(under, done.Code, IsStop: true));
        }

        return steps;
    }
}
