using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Domain.Tests.Throughput;

public sealed class WeekReportTests
{
    private static readonly Currency Euro = Currency.Of("EUR");

    [Theory]
    // Clock changes: IANA time zone database, rules "EU" (last Sundays of March and October) and "Chile" (first Sunday on or after 2 September, at midnight).
    [InlineData("Europe/Berlin", "2026-03-23", "2026-03-22T23:00:00Z", 167)]
    [InlineData("Europe/Berlin", "2026-10-19", "2026-10-18T22:00:00Z", 169)]
    [InlineData("Europe/Berlin", "2026-06-01", "2026-05-31T22:00:00Z", 168)]
    [InlineData("America/Denver", "2026-03-02", "2026-03-02T07:00:00Z", 167)]
    [InlineData("America/Santiago", "2026-09-06", "2026-09-06T04:00:00Z", 167)] // midnight does not exist: the day begins at 01:00
    [InlineData("America/Santiago", "2026-08-30", "2026-08-30T04:00:00Z", 168)] // ends where the next begins, an hour late by its clock
    public void A_week_runs_from_local_midnight_to_local_midnight(string zone, string first, string from, int hours)
    {
        var week = ShopWeek.Starting(Day(first), Shop(zone));
        Assert.Equal(At(from), week.From);
        Assert.Equal(hours, (week.To - week.From).TotalHours);
    }

    [Fact]
    public void Weeks_meet_without_gap_or_overlap_in_every_zone_of_the_test()
    {
        foreach (var zone in new[] { "Europe/Berlin", "America/Denver", "America/Santiago", "Asia/Kolkata", "UTC" })
        {
            var shop = Shop(zone);
            for (var day = Day("2026-01-01"); day < Day("2027-01-15"); day = day.AddDays(7))
            {
                Assert.Equal(ShopWeek.Starting(day, shop).To, ShopWeek.Starting(day.AddDays(7), shop).From);
            }
        }
    }

    [Fact]
    public void A_car_finished_in_the_last_minute_of_Sunday_belongs_to_the_week_and_one_a_minute_later_does_not()
    {
        var sunday = Job(1) with { FinishedAt = At("2026-03-29T21:59:00Z") }; // 23:59 summer time in Berlin
        var monday = Job(2) with { FinishedAt = At("2026-03-29T22:00:00Z") };
        var report = Report("2026-03-23", sunday, monday);
        Assert.Equal(["J-1"], report.Finished.Select(s => s.Number));
        Assert.Equal(["J-2"], Report("2026-03-30", sunday, monday).Finished.Select(s => s.Number));
    }

    [Fact]
    public void Hours_over_midnight_are_split_between_the_weeks()
    {
        var job = Job(1) with { Work = [new WorkedSpan(At("2026-03-29T20:30:00Z"), At("2026-03-29T23:30:00Z"))] };
        Assert.Equal(1.5m, Report("2026-03-23", job).HoursLoggedTotal);
        Assert.Equal(1.5m, Report("2026-03-30", job).HoursLoggedTotal);
    }

    [Fact]
    public void The_hour_that_the_clocks_skip_is_not_worked()
    {
        // 01:30 to 03:30 by the wall clock on the night of the change is one hour of work.
        var job = Job(1) with
        {
            Work = [new WorkedSpan(At("2026-03-29T00:30:00Z"), At("2026-03-29T01:30:00Z"))],
        };
        Assert.Equal(1m, Report("2026-03-23", job).HoursLoggedTotal);
    }

    [Fact]
    public void A_clock_still_running_counts_up_to_now()
    {
        var job = Job(1) with { Work = [new WorkedSpan(At("2026-03-24T08:00:00Z"), null)] };
        var report = WeekReport.Build(Berlin("2026-03-23"), At("2026-03-24T10:00:00Z"), [job]);
        Assert.Equal(2m, report.HoursLoggedTotal);
        Assert.Equal(At("2026-03-24T10:00:00Z"), report.AsOf);
    }

    [Fact]
    public void A_finished_car_carries_all_its_hours_beside_its_estimate()
    {
        var job = Job(1) with
        {
            FinishedAt = At("2026-03-25T12:00:00Z"),
            HoursEstimated = 30,
            Work =
            [
                new WorkedSpan(At("2026-03-10T08:00:00Z"), At("2026-03-10T16:00:00Z")),
                new WorkedSpan(At("2026-03-24T08:00:00Z"), At("2026-03-24T12:00:00Z")),
            ],
        };
        var report = Report("2026-03-23", job);
        Assert.Equal(new FinishedShare(30, 12), report.Finished.Single().Amount);
        Assert.Equal(4m, report.HoursLogged.Single().Amount);
    }

    [Fact]
    public void Work_in_hand_is_what_stood_in_the_shop_when_the_week_ended()
    {
        var inHand = Job(1);
        var finished = Job(2) with { FinishedAt = At("2026-03-25T12:00:00Z") };
        var cancelled = Job(3) with { LeftAt = At("2026-03-25T12:00:00Z") };
        var later = Job(4) with { OpenedAt = At("2026-03-30T08:00:00Z") };
        var finishedLater = Job(5) with { FinishedAt = At("2026-03-31T12:00:00Z") };
        var report = Report("2026-03-23", inHand, finished, cancelled, later, finishedLater);
        Assert.Equal(["J-1", "J-5"], report.InHand.Select(s => s.Number));
    }

    [Fact]
    public void Money_given_back_lowers_what_was_taken_and_both_stay_behind_the_figure()
    {
        var first = Job(1) with
        {
            Money =
            [
                new CashMoved(At("2026-03-24T08:00:00Z"), new Money(50_000, Euro)),
                new CashMoved(At("2026-04-24T08:00:00Z"), new Money(70_000, Euro)),
            ],
        };
        var second = Job(2) with { Money = [new CashMoved(At("2026-03-26T08:00:00Z"), new Money(-20_000, Euro))] };
        var report = Report("2026-03-23", first, second);
        Assert.Equal(new Money(30_000, Euro), report.MoneyTakenTotal(Euro));
        Assert.Equal([50_000L, -20_000L], report.MoneyTaken.Select(s => s.Amount.Minor));
    }

    [Fact]
    public void What_was_blocked_in_the_week_is_listed_with_its_cause()
    {
        var ended = new BlockedSpan("Ended before", "100", At("2026-03-10T08:00:00Z"), At("2026-03-22T08:00:00Z"));
        var over = new BlockedSpan("Over the limit", "110", At("2026-03-20T08:00:00Z"), At("2026-03-24T08:00:00Z"));
        var open = new BlockedSpan("Still so", "120", At("2026-03-25T08:00:00Z"), null);
        var present = new BlockedSpan("Waiting for: door panels", "210", null, null);
        var job = Job(1) with { Blocked = [ended, over, open, present] };
        Assert.Equal(["Over the limit", "Still so"], Report("2026-03-23", job).Blocked.Select(b => b.Amount.Why));
        var current = WeekReport.Build(Berlin("2026-03-23"), At("2026-03-26T08:00:00Z"), [job]);
        Assert.Equal(
            ["Over the limit", "Still so", "Waiting for: door panels"],
            current.Blocked.Select(b => b.Amount.Why)
        );
    }

    [Fact]
    public void A_week_without_jobs_is_empty_and_adds_up_to_nothing()
    {
        var report = Report("2026-03-23");
        Assert.True(report.IsEmpty);
        Assert.Equal(Money.Zero(Euro), report.MoneyTakenTotal(Euro));
        Assert.Equal(0, report.HoursLoggedTotal);
    }

    private static WeekReport Report(string first, params WeekJob[] jobs) =>
        WeekReport.Build(Berlin(first), At("2026-06-01T00:00:00Z"), jobs);

    private static ShopWeek Berlin(string first) => ShopWeek.Starting(Day(first), Shop("Europe/Berlin"));

    private static WeekJob Job(int number) =>
        new(
            JobId.From(new Guid($"01950000-0000-7000-8000-00000000000{number}")),
            $"J-{number}",
            "Sample car",
            At("2026-03-02T08:00:00Z"),
            null,
            null,
            20,
            [],
            [],
            []
        );

    private static Shop Shop(string zone) =>
        ShopFloor
            .Domain.Common.Shop.Create(
                ShopId.From(new Guid("01950000-0000-7000-8000-0000000000ff")),
                new ShopFloor.Domain.Common.Shop.Details(
                    "Sample shop",
                    null,
                    null,
                    null,
                    null,
                    null,
                    null,
                    zone,
                    "mm",
                    null,
                    false
                ),
                "EUR"
            )
            .Value;

    private static DateOnly Day(string text) =>
        DateOnly.ParseExact(text, "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    private static DateTimeOffset At(string text) =>
        DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
