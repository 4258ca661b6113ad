using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.HotWork;

namespace ShopFloor.Domain.Tests.Routing;

public sealed class JobTests
{
    [Fact]
    public void Nothing_starts_before_the_authorisation_is_signed()
    {
        var shop = new JobShop { Authorised = false };

        var reason = JobShop.Refusal(shop.Start("10"));

        Assert.Equal("authorisation", reason.Code);
        Assert.Contains("signature", reason.Text);
        Assert.Equal(OperationState.Waiting, shop.StateOf("10"));
    }

    [Fact]
    public void First_operation_is_ready_once_the_authorisation_is_signed()
    {
        var shop = new JobShop();

        Assert.Equal(OperationState.Ready, shop.StateOf("10"));
        Assert.True(shop.Start("10").IsSuccess);
        Assert.Equal(OperationState.InWork, shop.StateOf("10"));
    }

    [Fact]
    public void Operation_waits_for_the_one_before_it_and_says_so()
    {
        var reason = JobShop.Refusal(new JobShop().Start("20"));

        Assert.Equal(("operation", "10"), (reason.Code, reason.Operation));
    }

    [Fact]
    public void High_voltage_car_waits_for_a_qualified_person()
    {
        var shop = new JobShop(Energy.Electric).Through("10");

        Assert.Equal("isolation", JobShop.Refusal(shop.Start("20")).Code);
        Assert.True(
            shop.Job.RecordIsolation(
                new HighVoltageIsolation("T. Test", null, new Worker(JobShop.Mara, null), shop.Now)
            ).IsSuccess
        );
        Assert.True(shop.Start("20").IsSuccess);
    }

    [Fact]
    public void Door_bars_wait_for_the_customers_door_panels_and_name_the_day()
    {
        var shop = new JobShop().Through("200");
        shop.Parts.Add(new CustomerPartFact("door-panels", "door panels", new DateOnly(2026, 3, 10), false));

        Assert.Contains("door panels from the customer, due Tuesday 10 Mar", JobShop.Refusal(shop.Start("210")).Text);

        shop.Parts[0] = shop.Parts[0] with { HasArrived = true };
        Assert.True(shop.Start("210").IsSuccess);
    }

    [Fact]
    public void The_car_stands_still_for_the_panels_only_once_the_door_bars_are_next()
    {
        var shop = new JobShop().Through("190");
        shop.Parts.Add(new CustomerPartFact("door-panels", "door panels", new DateOnly(2026, 3, 10), false));

        Assert.False(shop.Job.StandsStillFor("door-panels", shop.Facts));
        shop.Through("200");
        Assert.True(shop.Job.StandsStillFor("door-panels", shop.Facts));
        Assert.False(shop.Job.StandsStillFor("seats", shop.Facts));
    }

    [Fact]
    public void Door_bars_wait_for_nothing_where_the_customer_brings_no_panels()
    {
        Assert.True(new JobShop().Through("200").Start("210").IsSuccess);
    }

    [Fact]
    public void Paint_waits_for_the_hold_lines_of_the_inspection_before_it()
    {
        var shop = new JobShop().Through("150");
        shop.HoldLines.Add(new OpenHoldLine("150", "Left brace joint all round", false));

        Assert.Equal(("holdPoint", "150"), Of(JobShop.Refusal(shop.Start("160"))));

        shop.HoldLines.Clear();
        Assert.True(shop.Start("160").IsSuccess);
    }

    [Fact]
    public void Painted_bar_waits_for_its_cure_by_the_servers_clock_whatever_the_device_says()
    {
        var shop = new JobShop().Through("160");
        shop.Finish("170");
        shop.Pass(TimeSpan.FromHours(11));
        var late = new Job.Tap(
            new Worker(JobShop.Mara, null),
            shop.Now + TimeSpan.FromHours(5),
            shop.NewId<TimeEntryId>()
        );

        var refused = shop.Job.Start("180", late, shop.Facts);

        Assert.Equal(("cure", "160"), Of(JobShop.Refusal(refused)));
        shop.Pass(TimeSpan.FromHours(1));
        Assert.True(shop.Start("180").IsSuccess);
    }

    [Fact]
    public void Two_people_on_one_operation_each_have_their_own_time()
    {
        var shop = new JobShop();
        shop.Start("10", JobShop.Mara);
        shop.Pass(TimeSpan.FromMinutes(30));
        shop.Start("10", JobShop.Ivo);
        shop.Pass(TimeSpan.FromMinutes(30));
        shop.Stop("10", JobShop.Mara);
        shop.Pass(TimeSpan.FromMinutes(30));

        Assert.Equal(OperationState.InWork, shop.StateOf("10"));
        shop.Stop("10", JobShop.Ivo);
        Assert.Equal(120, shop.Job.Operation("10")!.Minutes(shop.Now));
        Assert.Equal(OperationState.Ready, shop.StateOf("10"));
    }

    [Fact]
    public void Starting_twice_is_no_failure_and_makes_one_time_entry()
    {
        var shop = new JobShop();
        shop.Start("10");

        Assert.True(shop.Start("10").IsSuccess);
        Assert.Single(shop.Job.Operation("10")!.Times);
    }

    [Fact]
    public void Who_is_not_on_it_cannot_stop_it()
    {
        var shop = new JobShop();
        shop.Start("10", JobShop.Mara);

        Assert.Equal("notOnIt", JobShop.Refusal(shop.Stop("10", JobShop.Ivo)).Code);
    }

    [Fact]
    public void Second_finisher_is_told_who_finished_it_and_when()
    {
        var shop = new JobShop();
        shop.Pass(TimeSpan.FromMinutes(3));
        shop.Finish("10", JobShop.Mara);

        var reason = JobShop.Refusal(shop.Finish("10", JobShop.Ivo));

        Assert.Equal("alreadyFinished", reason.Code);
        Assert.Contains("Mara finished it at 08:03", reason.Text);
    }

    [Fact]
    public void Finish_ends_the_time_of_everybody_on_it()
    {
        var shop = new JobShop();
        shop.Start("10", JobShop.Mara);
        shop.Start("10", JobShop.Ivo);
        shop.Pass(TimeSpan.FromMinutes(10));
        shop.Finish("10", JobShop.Mara);

        Assert.All(shop.Job.Operation("10")!.Times, t => Assert.Equal(shop.Now, t.EndedAt));
    }

    [Fact]
    public void Hold_clocks_everybody_off_and_refuses_work_with_its_reason()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(TimeSpan.FromMinutes(5));

        shop.Job.Hold(
            "10",
            new HoldReason("questionToCustomer", "A question to the customer is open", "the customer"),
            "which seat?",
            shop.Tap(),
            shop.Facts
        );

        Assert.Equal(OperationState.OnHold, shop.StateOf("10"));
        Assert.Contains("which seat?", JobShop.Refusal(shop.Finish("10")).Text);
        Assert.True(shop.Job.Resume("10", takeUp: true, shop.Tap(JobShop.Ivo), shop.Facts).IsSuccess);
        Assert.Equal(OperationState.InWork, shop.StateOf("10"));
        Assert.Equal(JobShop.Ivo, Assert.Single(shop.Job.Operation("10")!.Running).Person);
    }

    [Fact]
    public void Hold_lifted_by_the_office_leaves_the_operation_for_whoever_comes()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Job.Hold(
            "10",
            new HoldReason("partMissing", "A part is missing", "a supplier"),
            null,
            shop.Tap(),
            shop.Facts
        );

        shop.Job.Resume("10", takeUp: false, shop.Tap(), shop.Facts);

        Assert.Equal(OperationState.Ready, shop.StateOf("10"));
        Assert.Empty(shop.Job.Operation("10")!.Running);
    }

    [Fact]
    public void Mistaken_finish_is_taken_back_within_two_minutes_and_the_timers_run_on()
    {
        var shop = new JobShop();
        shop.Start("10");
        shop.Pass(TimeSpan.FromMinutes(10));
        shop.Finish("10");
        shop.Pass(TimeSpan.FromMinutes(2));

        Assert.True(shop.Undo("10").IsSuccess);
        Assert.Equal(OperationState.InWork, shop.StateOf("10"));
        Assert.Equal(12, shop.Job.Operation("10")!.Minutes(shop.Now));
    }

    [Fact]
    public void Finish_stands_after_two_minutes()
    {
        var shop = new JobShop();
        shop.Finish("10");
        shop.Pass(TimeSpan.FromMinutes(2) + TimeSpan.FromMilliseconds(1));

        Assert.Equal("undoTooLate", JobShop.Refusal(shop.Undo("10")).Code);
    }

    [Fact]
    public void Finish_stands_once_the_next_operation_was_begun_on_it()
    {
        var shop = new JobShop();
        shop.Finish("10");
        shop.Start("20");

        Assert.Equal(("builtOn", "20"), Of(JobShop.Refusal(shop.Undo("10"))));
    }

    [Fact]
    public void Operation_in_work_holds_the_ways_it_needs()
    {
        var shop = new JobShop(route: [Step("10", needs: ["open"]), Step("20", closes: ["open"])]);
        shop.Start("10");

        var reason = JobShop.Refusal(shop.Start("20", JobShop.Ivo));

        Assert.Equal(("wayHeld", "10"), Of(reason));
        shop.Finish("10");
        Assert.True(shop.Start("20", JobShop.Ivo).IsSuccess);
    }

    [Fact]
    public void Step_that_would_shut_the_builder_out_is_refused_with_what_to_do_first()
    {
        var shop = new JobShop(route: [Step("10", needs: ["open"]), Step("20", closes: ["open"])]);

        var reason = JobShop.Refusal(shop.Start("20"));

        Assert.Equal(("buildSequence", "10"), Of(reason));
        Assert.Contains("10 Step 10 needs the open way, which would stay closed. Do 10 Step 10 first.", reason.Text);
        Assert.Equal(OperationState.Waiting, shop.StateOf("20"));
    }

    [Fact]
    public void Operation_that_opens_a_needed_way_cannot_be_set_to_not_needed()
    {
        var shop = new JobShop(route: [Step("10", opens: ["hatch"]), Step("20", needs: ["hatch"])]);

        Assert.Equal(
            "buildSequence",
            JobShop.Refusal(shop.Job.SetNotNeeded("10", "no hatch", new Worker(JobShop.Mara, null), shop.Facts)).Code
        );
        Assert.True(
            shop.Job.SetNotNeeded("20", "customer does it", new Worker(JobShop.Mara, null), shop.Facts).IsSuccess
        );
        Assert.Equal(OperationState.Done, shop.StateOf("20"));
    }

    [Fact]
    public void Half_built_car_goes_on_where_it_stands()
    {
        var shop = new JobShop();
        Job.DoneBefore[] done =
        [
            .. new[] { "10", "20", "30", "40", "50", "60", "70", "80", "90" }.Select(c => new Job.DoneBefore(
                c,
                new DateOnly(2026, 2, 27),
                JobShop.Monday,
                60
            )),
        ];

        var job = shop.MidRoute(done).Value;

        Assert.True(job.EnteredMidRoute);
        var facts = shop.Facts with { HotWork = HotWorkShop.EveryPlaceOpen(job, shop.Now) };
        Assert.Equal(OperationState.Ready, job.StateOf(job.Operation("100")!, facts));
        Assert.Equal(9 * 60, job.Operations.Sum(o => o.Minutes(shop.Now)));
    }

    [Fact]
    public void Car_built_into_a_corner_before_is_not_taken_over_without_a_word()
    {
        var shop = new JobShop();
        Job.DoneBefore[] done = [new("180", new DateOnly(2026, 2, 27), JobShop.Monday, 0)];

        var refused = Assert.IsType<Failure.Refused>(shop.MidRoute(done).Failure);

        Assert.Equal("buildSequence", refused.Reasons[0].Code);
    }

    [Fact]
    public void Unknown_operation_in_what_was_done_is_told_at_its_field()
    {
        var invalid = Assert.IsType<Failure.Invalid>(
            new JobShop().MidRoute(new Job.DoneBefore("999", new DateOnly(2026, 2, 27), JobShop.Monday, 0)).Failure
        );

        Assert.Equal("done[0].code", Assert.Single(invalid.Errors).Path);
    }

    [Fact]
    public void Cancelled_job_clocks_everybody_off_and_takes_no_more_work()
    {
        var shop = new JobShop();
        shop.Start("10");

        Assert.True(shop.Job.Cancel("customer sold the car", shop.Now).IsSuccess);

        Assert.Empty(shop.Job.Operation("10")!.Running);
        Assert.Equal("jobCancelled", JobShop.Refusal(shop.Start("10")).Code);
    }

    [Fact]
    public void Job_closes_only_when_nothing_is_open()
    {
        var shop = new JobShop();
        Assert.IsType<Failure.Refused>(shop.Job.Close(shop.Now).Failure);

        shop.Through("270");

        Assert.True(shop.Job.Close(shop.Now).IsSuccess);
        Assert.Equal(JobState.Closed, shop.Job.State);
    }

    [Fact]
    public void Release_is_finished_by_a_sign_off_only()
    {
        var shop = new JobShop { SignedOff = false };
        shop.Through("260");
        Assert.True(shop.Start("270", JobShop.Ivo).IsSuccess);

        var refusal = JobShop.Refusal(shop.Finish("270", JobShop.Ivo));

        Assert.Equal("notSignedOff", refusal.Code);
        Assert.Contains("signs the car off", refusal.Text, StringComparison.Ordinal);
        shop.SignedOff = true;
        Assert.True(shop.Finish("270", JobShop.Ivo).IsSuccess);
    }

    [Theory]
    [InlineData("90", "is an inspection")]
    [InlineData("260", "is an inspection")]
    [InlineData("270", "is the release of the car")]
    public void Inspection_and_release_are_needed_on_every_car(string code, string says)
    {
        var shop = new JobShop();

        var refusal = JobShop.Refusal(
            shop.Job.SetNotNeeded(code, "in a hurry", new Worker(JobShop.Mara, null), shop.Facts)
        );

        Assert.Equal(("inspection", code), Of(refusal));
        Assert.Contains(says, refusal.Text, StringComparison.Ordinal);
        Assert.False(shop.Job.Operation(code)!.IsOver);
    }

    [Fact]
    public void A_hold_point_and_a_hold_are_not_got_round_by_not_needed()
    {
        var shop = new JobShop();
        var by = new Worker(JobShop.Mara, null);
        shop.HoldLines.Add(new OpenHoldLine("20", "Battery off", HasFailed: false));
        Assert.Equal("holdPoint", JobShop.Refusal(shop.Job.SetNotNeeded("20", "in a hurry", by, shop.Facts)).Code);
        shop.HoldLines.Clear();
        Assert.True(shop.Job.Hold("20", HoldReason.Other, "Look at it", shop.Tap(), shop.Facts).IsSuccess);
        Assert.Equal("onHold", JobShop.Refusal(shop.Job.SetNotNeeded("20", "in a hurry", by, shop.Facts)).Code);
        Assert.True(shop.Job.Resume("20", takeUp: false, shop.Tap(), shop.Facts).IsSuccess);
        Assert.True(shop.Job.SetNotNeeded("20", "customer did it", by, shop.Facts).IsSuccess);
    }

    [Fact]
    public void Moved_promise_keeps_the_old_day_and_the_reason()
    {
        var shop = new JobShop();

        shop.Job.MovePromise(new DateOnly(2026, 3, 27), "panels late", new Worker(JobShop.Mara, null), shop.Now);

        Assert.Equal(new DateOnly(2026, 3, 27), shop.Job.PromisedOn);
        Assert.Equal(new DateOnly(2026, 3, 20), Assert.Single(shop.Job.PromiseMoves).From);
    }

    private static (string Code, string? Operation) Of(Reason reason) => (reason.Code, reason.Operation);

    private static RouteOperation Step(
        string code,
        string[]? needs = null,
        string[]? closes = null,
        string[]? opens = null
    ) =>
        new()
        {
            Code = code,
            Title = "Step " + code,
            Phase = Phase.FinalWeld,
            Skill = "welder",
            Place = "bay",
            NeedsOpen = needs ?? [],
            Closes = closes ?? [],
            Opens = opens ?? [],
        };
}
