using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.HotWork;

public sealed class HotWorkPermitTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private static readonly JobId Car = JobId.From(new Guid("00000000-0000-7000-8000-0000000000c1"));

    [Fact]
    public void Checklist_names_each_point_that_the_permit_needs() =>
        Assert.Equal(
            [
                "fuel",
                "combustibles",
                "cabin",
                "farSide",
                "underCar",
                "electrics",
                "extinguisher",
                "ventilation",
                "airLine",
                "stands",
            ],
            PermitPoint.All.Select(p => p.Code)
        );

    [Fact]
    public void An_empty_checklist_is_refused_with_a_sentence_for_each_point_and_the_watcher()
    {
        var opening = HotWorkShop.Opening(Car, answers: []) with { Watcher = null };
        var reasons = Reasons(HotWorkPermit.Open(opening, 60, Noon));
        Assert.Equal([.. PermitPoint.All.Select(p => p.Code), "watcher"], reasons.Select(r => r.Code));
        Assert.All(reasons, r => Assert.EndsWith(".", r.Text));
        Assert.Contains(reasons, r => r.Text.Contains("11 m (35 ft)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_whole_checklist_opens_the_permit_for_its_shift()
    {
        var permit = HotWorkShop.Open(Noon, Car);
        Assert.Equal(new PermitStanding.Open(Noon.AddHours(8)), permit.Standing(Noon));
        Assert.True(permit.Covers(Car, hasCar: true, "bay", Noon.AddHours(8).AddMilliseconds(-1)));
        Assert.False(permit.Covers(Car, hasCar: true, "bay", Noon.AddHours(8)));
        Assert.False(permit.Covers(Car, hasCar: true, "bench", Noon));
    }

    [Theory]
    [InlineData("fuel", PointFinding.Assessed, "A. Fuller, fuel systems", true)]
    [InlineData("fuel", PointFinding.Assessed, null, false)]
    [InlineData("fuel", PointFinding.NotHere, "no tank", false)]
    [InlineData("cabin", PointFinding.Assessed, "A. Fuller", false)]
    [InlineData("combustibles", PointFinding.NotHere, "nothing", false)]
    [InlineData("airLine", PointFinding.NotHere, "none in use", true)]
    [InlineData("stands", PointFinding.NotHere, null, false)]
    public void A_point_takes_only_the_findings_that_make_sense(
        string point,
        PointFinding finding,
        string? note,
        bool isTaken
    )
    {
        var answers = HotWorkShop
            .AllWell.Select(a => a.Point == point ? new PermitAnswer(point, finding, note) : a)
            .ToList();
        var opened = HotWorkPermit.Open(HotWorkShop.Opening(Car, answers: answers), 60, Noon);
        Assert.Equal(isTaken, opened.IsSuccess);
        if (!isTaken)
        {
            Assert.Equal(point, Assert.Single(Reasons(opened)).Code);
        }
    }

    [Fact]
    public void Where_no_car_stands_the_points_about_a_car_may_be_left_out()
    {
        var answers = PermitPoint
            .All.Select(p => new PermitAnswer(p.Code, p.OfCar ? PointFinding.NotHere : PointFinding.Done))
            .ToList();
        Assert.True(HotWorkPermit.Open(HotWorkShop.Opening(null, "bench", answers: answers), 60, Noon).IsSuccess);
        Assert.Equal(
            PermitPoint.All.Count(p => p.OfCar),
            Reasons(HotWorkPermit.Open(HotWorkShop.Opening(Car, answers: answers), 60, Noon)).Count
        );
    }

    [Fact]
    public void The_watcher_is_another_person_without_other_duty()
    {
        var opening = HotWorkShop.Opening(Car);
        var own = HotWorkPermit.Open(opening with { Watcher = HotWorkShop.Opener }, 60, Noon);
        Assert.Equal("watcher", Assert.Single(Reasons(own)).Code);
        var busy = HotWorkPermit.Open(opening with { WatcherIsFree = false }, 60, Noon);
        Assert.Equal("watcherBusy", Assert.Single(Reasons(busy)).Code);
    }

    [Theory] // At least half an hour: OSHA 29 CFR 1910.252(a)(2)(iii)(B).
    [InlineData(null, 60, true, 60)]
    [InlineData(30, 30, true, 30)]
    [InlineData(29, 30, false, 0)]
    [InlineData(45, 60, false, 0)]
    [InlineData(90, 60, true, 90)]
    [InlineData(241, 60, false, 0)]
    public void A_watch_is_never_shorter_than_the_shops_own_and_never_under_half_an_hour(
        int? wanted,
        int shop,
        bool isTaken,
        int minutes
    )
    {
        var opened = HotWorkPermit.Open(HotWorkShop.Opening(Car) with { WatchMinutes = wanted }, shop, Noon);
        Assert.Equal(isTaken, opened.IsSuccess);
        if (isTaken)
        {
            Assert.Equal(minutes, opened.Value.WatchMinutes);
        }
    }

    [Fact]
    public void No_permit_is_opened_beside_paint()
    {
        var paint = new PaintUnderWay(Car, "J-2026-0007", "240", "Touch-up paint", ["bay"]);
        var opened = HotWorkPermit.Open(HotWorkShop.Opening(Car, paint: [paint]), 60, Noon);
        Assert.Equal("paintInWork", Assert.Single(Reasons(opened)).Code);
        Assert.True(HotWorkPermit.Open(HotWorkShop.Opening(Car, "bench", paint: [paint]), 60, Noon).IsSuccess);
    }

    [Fact]
    public void Only_the_watcher_closes_and_only_after_the_time()
    {
        var permit = HotWorkShop.Open(Noon, Car);
        Assert.True(permit.SparkSeen(Noon).IsSuccess);
        Assert.Equal("watchRuns", Code(Close(permit, Noon.AddMinutes(60).AddMilliseconds(-1))));
        Assert.Equal("notTheWatcher", Code(Close(permit, Noon.AddMinutes(60), HotWorkShop.Opener)));
        Assert.IsType<Failure.Invalid>(Close(permit, Noon.AddMinutes(60), looked: false).Failure);
        Assert.True(Close(permit, Noon.AddMinutes(60)).IsSuccess);
        Assert.Equal(new PermitStanding.Closed(Noon.AddMinutes(60)), permit.Standing(Noon.AddHours(2)));
        Assert.Equal("permitClosed", Code(Close(permit, Noon.AddMinutes(61))));
    }

    [Fact]
    public void Sparks_seen_later_begin_the_watch_anew()
    {
        var permit = HotWorkShop.Open(Noon, Car);
        permit.SparkSeen(Noon);
        permit.SparkSeen(Noon.AddMinutes(59));
        Assert.Equal("watchRuns", Code(Close(permit, Noon.AddMinutes(118))));
        Assert.True(Close(permit, Noon.AddMinutes(119)).IsSuccess);
    }

    [Fact]
    public void A_permit_without_any_spark_is_closed_at_once()
    {
        var permit = HotWorkShop.Open(Noon, Car);
        Assert.True(Close(permit, Noon.AddMinutes(1), looked: false).IsSuccess);
    }

    [Fact]
    public void The_watch_is_handed_to_somebody_free_and_only_that_person_closes()
    {
        var permit = HotWorkShop.Open(Noon, Car);
        var next = PersonId.From(new Guid("00000000-0000-7000-8000-0000000000f3"));
        Assert.Equal("watcherBusy", Code(permit.HandWatchTo(next, isFree: false, Noon)));
        Assert.True(permit.HandWatchTo(next, isFree: true, Noon).IsSuccess);
        Assert.Equal("notTheWatcher", Code(Close(permit, Noon)));
        Assert.True(Close(permit, Noon, next).IsSuccess);
    }

    private static Outcome<Done> Close(
        HotWorkPermit permit,
        DateTimeOffset at,
        PersonId? by = null,
        bool looked = true
    ) => permit.Close(by ?? HotWorkShop.Watcher, looked, null, at, _ => "13:00");

    private static IReadOnlyList<Reason> Reasons<T>(Outcome<T> outcome) =>
        Assert.IsType<Failure.Refused>(outcome.Failure).Reasons;

    private static string Code<T>(Outcome<T> outcome) => Assert.Single(Reasons(outcome)).Code;
}
