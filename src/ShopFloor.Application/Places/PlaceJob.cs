using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Places;

/// <summary>Notes in which bay (or at which bench, in which paint place) a job is worked on.</summary>
public sealed class PlaceJob(JobChange change) : IUseCase
{
    /// <param name="Place">Code of one of the shop's places.</param>
    public sealed record Request(string? Place);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.KeepParts,
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                // A car must not be driven to sparks or vapour that another tap brings about at the same moment.
                await scope.LockSeriesAsync(HotWorkLoading.Series);
                var facts = await HotWorkLoading.ReadAsync(scope.Db, scope.Cancellation);
                var before = job.Places;
                return facts.Places.Find(request.Place ?? "") is not { } place
                    ? Failure.Field(
                        "place",
                        $"The shop has no such place; it has {string.Join(", ", facts.Places.All.Select(p => p.Code))}."
                    )
                    : job.PutIn(place, facts).Then<EventDraft>(_ => Event(job, before));
            },
            ct
        );

    /// <summary>A permit for a car says where it stands; the same as was said before, or the first word about it.</summary>
    internal static Failure? Stands(CommandScope scope, Job job, ShopPlace place, HotWorkFacts facts)
    {
        if (facts.Places.OfKind(place.Kind).Count < 2)
        {
            return null;
        }

        if (facts.Places.Possible(job, place.Kind) is [var stands] && stands != place.Code)
        {
            return Failure.Field(
                "place",
                $"{job.Number} is in {facts.Places.Title(stands)}, not in {place.Title}. Note first that it was moved, on its page of car, keys and removed parts."
            );
        }

        var before = job.Places;
        if (job.PutIn(place, facts).Failure is { } refused)
        {
            return refused;
        }

        if (!ReferenceEquals(before, job.Places))
        {
            scope.Record(Event(job, before));
        }

        return null;
    }

    private static EventDraft Event(Job job, IReadOnlyDictionary<string, string> before) =>
        new("job.placed", "job", job.Id.Value, job.Id, new { places = before }, new { places = job.Places });
}
