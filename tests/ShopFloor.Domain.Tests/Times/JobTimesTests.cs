using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Tests.Times;

public sealed class JobTimesTests
{
    private static readonly Worker Desk = new(PersonId.From(new Guid("00000000-0000-7000-8000-00000000000d")), null);
    private static readonly Worker Mara = new(JobShop.Mara, null);

    [Fact]
    public void Corrected_time_counts_as_corrected_and_keeps_what_was_entered_first()
    {
        var shop = Worked(TimeSpan.FromHours(9));
        var entry = Entry(shop);
        var (start, end) = (entry.StartedAt, entry.EndedAt);

        Assert.True(Correct(shop, JobShop.Monday, JobShop.Monday.AddHours(2), "Forgot to stop").IsSuccess);
        Assert.True(Correct(shop, JobShop.Monday, JobShop.Monday.AddHours(3), "Looked at it again").IsSuccess);

        Assert.Equal(180, shop.Job.Operation("10")!.Minutes(shop.Now));
        Assert.Equal(2, entry.Corrections.Count);
        Assert.Equal((start, end), (entry.Corrections[0].FromStart, entry.Corrections[0].FromEnd));
        Assert.Equal(("Forgot to stop", Desk), (entry.Corrections[0].Reason, entry.Corrections[0].By));
    }

    [Fact]
    public void Running_timer_that_is_corrected_ends_and_the_operation_waits_for_somebody()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(TimeSpan.FromHours(14));

        Assert.True(Correct(shop, JobShop.Monday, JobShop.Monday.AddHours(8), "Went home").IsSuccess);

        Assert.Equal(OperationState.Ready, shop.StateOf("10"));
        Assert.Null(Assert.Single(Entry(shop).Corrections).FromEnd);
        Assert.True(shop.Start("10").IsSuccess);
    }

    [Fact]
    public void Finish_that_is_taken_back_does_not_let_a_corrected_time_run_again()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(TimeSpan.FromHours(14));
        shop.Finish("10");
        Correct(shop, JobShop.Monday, JobShop.Monday.AddHours(8), "Went home");

        Assert.True(shop.Undo("10").IsSuccess);

        Assert.Empty(shop.Job.Operation("10")!.Running);
        Assert.Equal(480, shop.Job.Operation("10")!.Minutes(shop.Now));
    }

    [Fact]
    public void Two_times_of_one_person_on_one_operation_never_overlap()
    {
        var shop = Worked(TimeSpan.FromHours(1));
        var given = new SpellGiven(JobShop.Monday.AddMinutes(30), JobShop.Monday.AddHours(2), "Forgot to start");

        var refused = shop.Job.AddTime("10", shop.NewId<TimeEntryId>(), Mara, given, Desk, shop.Now.AddHours(2));

        Assert.Equal("timesOverlap", JobShop.Refusal(refused).Code);
        var ivo = new Worker(JobShop.Ivo, null);
        Assert.True(
            shop.Job.AddTime("10", shop.NewId<TimeEntryId>(), ivo, given, Desk, shop.Now.AddHours(2)).IsSuccess
        );
        Assert.NotNull(shop.Job.Operation("10")!.Times.Single(t => t.Person == JobShop.Ivo).Entered);
    }

    [Fact]
    public void Time_alone_begins_no_operation()
    {
        var shop = new JobShop();
        var given = new SpellGiven(JobShop.Monday.AddHours(-2), JobShop.Monday.AddHours(-1), "From paper");

        Assert.Equal(
            "notBegun",
            JobShop.Refusal(shop.Job.AddTime("10", shop.NewId<TimeEntryId>(), Mara, given, Desk, shop.Now)).Code
        );
    }

    [Fact]
    public void Times_of_a_cancelled_job_stay_as_they_were_charged()
    {
        var shop = Worked(TimeSpan.FromHours(1));
        Assert.True(shop.Job.Cancel("Sold the car", shop.Now).IsSuccess);

        Assert.Equal("jobCancelled", JobShop.Refusal(Correct(shop, JobShop.Monday, shop.Now, "Too late")).Code);
    }

    [Fact]
    public void Person_answers_for_their_own_timer_only_and_not_before_it_began()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(TimeSpan.FromHours(12));

        Assert.Equal("notOnIt", JobShop.Refusal(shop.Job.StopTimeAt("10", Desk, shop.Now, shop.Now)).Code);
        Assert.IsType<Failure.Invalid>(shop.Job.StopTimeAt("10", Mara, JobShop.Monday.AddHours(-1), shop.Now).Failure);
        Assert.True(shop.Job.StopTimeAt("10", Mara, JobShop.Monday.AddHours(8), shop.Now).IsSuccess);
        Assert.Equal(480, shop.Job.Operation("10")!.Minutes(shop.Now));
    }

    [Fact]
    public void Leaving_takes_one_person_off_everything_and_lets_the_others_go_on()
    {
        var shop = new JobShop().Through("10");
        shop.Start("20");
        shop.Start("20", JobShop.Ivo);
        shop.Pass(TimeSpan.FromMinutes(20));

        var left = shop.Job.Leave(Mara, shop.Now, shop.Now);

        Assert.Equal("20", Assert.Single(left).Code);
        Assert.Equal(OperationState.InWork, shop.StateOf("20"));
        Assert.Equal(JobShop.Ivo, Assert.Single(shop.Job.Operation("20")!.Running).Person);
        Assert.Single(shop.Job.Leave(new Worker(JobShop.Ivo, null), shop.Now, shop.Now));
        Assert.Equal(OperationState.Ready, shop.StateOf("20"));
    }

    [Theory]
    [InlineData(1, 0, "endedAt")]
    [InlineData(-1, 30, "endedAt")]
    [InlineData(-9700, -9600, "startedAt")]
    [InlineData(-1, 1, "endedAt")]
    public void Times_that_cannot_be_are_refused_at_their_field(int startHours, int endHours, string field)
    {
        var now = JobShop.Monday;
        var read = SpellGiven.Read(now.AddHours(startHours), now.AddHours(endHours), "Because", now);

        Assert.Contains(Assert.IsType<Failure.Invalid>(read.Failure).Errors, e => e.Path == field);
    }

    [Fact]
    public void Correction_without_a_reason_is_refused()
    {
        var read = SpellGiven.Read(JobShop.Monday, JobShop.Monday, " ", JobShop.Monday);
        Assert.Equal("reason", Assert.Single(Assert.IsType<Failure.Invalid>(read.Failure).Errors).Path);
    }

    private static JobShop Worked(TimeSpan time)
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(time);
        shop.Stop("10");
        return shop;
    }

    private static TimeEntry Entry(JobShop shop) => Assert.Single(shop.Job.Operation("10")!.Times);

    private static Outcome<Operation> Correct(JobShop shop, DateTimeOffset start, DateTimeOffset end, string reason) =>
        shop.Job.CorrectTime(Entry(shop).Id, new SpellGiven(start, end, reason), Desk, shop.Now);
}
