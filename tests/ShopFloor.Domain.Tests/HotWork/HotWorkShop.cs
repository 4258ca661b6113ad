using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.HotWork;

/// <summary>Permits as a careful shop opens them.</summary>
internal static class HotWorkShop
{
    public static readonly PersonId Opener = PersonId.From(new Guid("00000000-0000-7000-8000-0000000000f1"));
    public static readonly PersonId Watcher = PersonId.From(new Guid("00000000-0000-7000-8000-0000000000f2"));

    /// <summary>Every point as it must be.</summary>
    public static IReadOnlyList<PermitAnswer> AllWell { get; } =
    [.. PermitPoint.All.Select(p => new PermitAnswer(p.Code, PointFinding.Done))];

    public static HotWorkPermit.Opening Opening(
        JobId? job,
        string place = "bay",
        int number = 1,
        IReadOnlyList<PermitAnswer>? answers = null,
        IReadOnlyList<PaintUnderWay>? paint = null
    ) =>
        new(
            HotWorkPermitId.From(new Guid(number, 1, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 1)),
            $"H-2026-{number:0000}",
            place,
            job,
            Opener,
            Watcher,
            WatcherIsFree: true,
            WatchMinutes: null,
            ShiftHours: null,
            answers ?? AllWell,
            paint ?? []
        );

    public static HotWorkPermit Open(DateTimeOffset now, JobId? job, string place = "bay", int number = 1) =>
        HotWorkPermit.Open(Opening(job, place, number), FireWatch.UsualMinutes, now).Value;

    /// <summary>Hot work may begin on all of this job's hot operations, and no paint is kept waiting by it.</summary>
    public static HotWorkFacts EveryPlaceOpen(Job job, DateTimeOffset now)
    {
        var isNextPaint = job.Operations.FirstOrDefault(o => !o.IsOver)?.Route.PaintOrSolvent == true;
        var places = job.Operations.Where(o => o.Route.HotWork).Select(o => o.Place).Distinct();
        return new HotWorkFacts(isNextPaint ? [] : [.. places.Select(p => Open(now, job.Id, p))], []);
    }
}
