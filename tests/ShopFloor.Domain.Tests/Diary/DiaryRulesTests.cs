using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Domain.Tests.Diary;

/// <summary>What is late, whom to call, how full a day is.</summary>
public sealed class DiaryRulesTests
{
    private static readonly DateOnly Today = new(2026, 6, 10);

    [Fact]
    public void A_car_that_is_ready_is_not_late_and_one_that_is_not_is()
    {
        var promised = Job() with { CameOn = Today.AddDays(-9), PromisedOn = Today.AddDays(-2) };
        var late = Assert.Single(DiaryRules.Late(DiaryRules.Marks(promised), Today));
        Assert.Equal((DiaryMatter.Promised, Today.AddDays(-2)), (late.Matter, late.Day));

        var ready = promised with { ReadyOn = Today.AddDays(-1) };
        Assert.Empty(DiaryRules.Late(DiaryRules.Marks(ready), Today));
        Assert.Equal([CallReason.NoCollectionAgreed], DiaryRules.Calls(ready, Today));
    }

    [Fact]
    public void Nobody_is_late_on_the_day_itself()
    {
        var job = Job(Comes(Today)) with { PromisedOn = Today, Parts = [new("Door panels", Today)] };
        Assert.Empty(DiaryRules.Late(DiaryRules.Marks(job), Today));
        Assert.Equal(
            [DiaryMatter.DropOff, DiaryMatter.Promised, DiaryMatter.Part],
            DiaryRules
                .Late(DiaryRules.Marks(job), Today.AddDays(1))
                .Select(m => m.Matter)
                .OrderBy(m =>
                    m switch
                    {
                        DiaryMatter.DropOff => 0,
                        DiaryMatter.Promised => 1,
                        _ => 2,
                    }
                )
        );
    }

    [Fact]
    public void A_car_that_came_is_done_and_one_that_is_fetched_late_is_said()
    {
        var job = Job(Comes(Today.AddDays(-5)), Fetched(Today.AddDays(-1), AppointmentAnswer.Confirmed)) with
        {
            CameOn = Today.AddDays(-5),
            ReadyOn = Today.AddDays(-2),
        };
        var marks = DiaryRules.Marks(job).ToList();
        Assert.Equal(DiaryStanding.Done, marks.Single(m => m.Matter == DiaryMatter.DropOff).Standing);
        Assert.Equal(DiaryMatter.Collection, Assert.Single(DiaryRules.Late(marks, Today)).Matter);
    }

    [Theory]
    [InlineData(null, 0, new[] { CallReason.NotConfirmed })]
    [InlineData(null, 1, new[] { CallReason.NotConfirmed })]
    [InlineData(null, 2, new CallReason[0])]
    [InlineData(AppointmentAnswer.Confirmed, 0, new CallReason[0])]
    [InlineData(AppointmentAnswer.OtherAsked, 9, new[] { CallReason.OtherTimeAsked })]
    public void Whoever_has_not_confirmed_by_the_day_before_is_called(
        AppointmentAnswer? answer,
        int daysAhead,
        CallReason[] expected
    ) => Assert.Equal(expected, DiaryRules.Calls(Job(Comes(Today.AddDays(daysAhead), answer)), Today));

    [Fact]
    public void A_job_without_an_agreed_day_asks_for_one_but_not_when_it_is_for_goods()
    {
        Assert.Equal([CallReason.NoDropOffAgreed], DiaryRules.Calls(Job(), Today));
        Assert.Empty(DiaryRules.Calls(Job() with { HasCar = false }, Today));
        Assert.Empty(DiaryRules.Calls(Job() with { CameOn = Today }, Today));
    }

    [Fact]
    public void A_car_fetched_before_its_promised_day_is_said_until_it_is_ready()
    {
        var job = Job(Fetched(Today.AddDays(3), AppointmentAnswer.Confirmed)) with
        {
            CameOn = Today.AddDays(-5),
            PromisedOn = Today.AddDays(5),
        };
        Assert.Equal([CallReason.CollectionTooEarly], DiaryRules.Calls(job, Today));
        Assert.Empty(DiaryRules.Calls(job with { PromisedOn = Today.AddDays(3) }, Today));
        Assert.Empty(DiaryRules.Calls(job with { ReadyOn = Today }, Today));
    }

    [Theory]
    [InlineData(true, null, null, CallReason.NotBookedIn)]
    [InlineData(false, null, null, null)]
    [InlineData(false, -1, 3, CallReason.OfferEnds)]
    [InlineData(false, -1, 4, null)]
    [InlineData(false, -6, 20, null)]
    [InlineData(false, -7, 20, CallReason.OfferSilent)]
    [InlineData(false, -7, 0, CallReason.OfferEnds)]
    [InlineData(false, -7, -1, CallReason.OfferEnded)]
    [InlineData(false, -20, -7, CallReason.OfferEnded)]
    [InlineData(false, -20, -8, null)]
    public void An_offer_is_asked_after_before_it_ends_or_when_it_is_silent(
        bool isAccepted,
        int? sent,
        int? until,
        CallReason? expected
    ) =>
        Assert.Equal(
            expected,
            DiaryRules.Call(
                isAccepted,
                sent is { } s ? Today.AddDays(s) : null,
                until is { } u ? Today.AddDays(u) : null,
                Today
            )
        );

    [Fact]
    public void Room_is_taken_from_drop_off_to_collection_and_longer_by_a_car_that_should_have_gone()
    {
        Assert.Equal([0, 0, 1, 1, 1, 0], Taken(Job(Comes(Today.AddDays(2))) with { PromisedOn = Today.AddDays(4) }));
        // The agreed collection counts, not the promised day.
        Assert.Equal(
            [1, 1, 1, 1, 1, 1],
            Taken(Job(Fetched(Today.AddDays(7))) with { CameOn = Today.AddDays(-3), PromisedOn = Today.AddDays(1) })
        );
        // Promised for yesterday and still here: it stands here today at least.
        Assert.Equal(
            [1, 0, 0, 0, 0, 0],
            Taken(Job() with { CameOn = Today.AddDays(-3), PromisedOn = Today.AddDays(-1) })
        );
        // Should have come yesterday: expected from today.
        Assert.Equal([1, 1, 0, 0, 0, 0], Taken(Job(Comes(Today.AddDays(-1))) with { PromisedOn = Today.AddDays(1) }));
        // Comes after the day it was promised for: its day at least is taken.
        Assert.Equal([0, 0, 0, 1, 0, 0], Taken(Job(Comes(Today.AddDays(3))) with { PromisedOn = Today.AddDays(1) }));
        // Here, and nobody has said until when.
        Assert.Equal([1, 1, 1, 1, 1, 1], Taken(Job() with { CameOn = Today }));
        Assert.Equal([0, 0, 0, 0, 0, 0], Taken(Job() with { PromisedOn = Today.AddDays(4) }));
        Assert.Equal([0, 0, 0, 0, 0, 0], Taken(Job(Comes(Today)) with { HasCar = false }));
    }

    [Fact]
    public void A_day_says_how_many_cars_still_fit_and_who_is_there()
    {
        var stays = Enumerable.Range(0, 3).Select(_ => (Job() with { CameOn = Today }).Stay!).ToList();
        var day = Assert.Single(ShopStays.Count(stays, 2, _ => [480, 0, 240], Today, 1, Today));
        Assert.Equal((3, (int?)2, (int?)-1), (day.Cars, day.Holds, day.Room));
        Assert.Equal((2, 720, true), (day.People, day.Minutes, day.IsOpen));
        Assert.False(ShopStays.Count(stays, 2, _ => [0, 0], Today, 1, Today)[0].IsOpen);
    }

    private static int[] Taken(DiaryJob job) =>
        [.. ShopStays.Count(job.Stay is { } stay ? [stay] : [], 4, _ => [480], Today, 6, Today).Select(d => d.Cars)];

    private static DiaryJob Job(params DiaryTime[] times) =>
        new(new JobId(Guid.CreateVersion7()), true, null, null, null, times, []);

    private static DiaryTime Comes(DateOnly day, AppointmentAnswer? answer = null) =>
        new(AppointmentKind.DropOff, day, null, answer);

    private static DiaryTime Fetched(DateOnly day, AppointmentAnswer? answer = null) =>
        new(AppointmentKind.Collection, day, null, answer);
}
