using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

/// <summary>Gates recorded on the job itself, the owner's decisions, and rework.</summary>
public sealed class JobDecisionsTests
{
    private static readonly Worker Owner = new(JobShop.Ivo, null);

    [Fact]
    public void Operation_waits_for_recorded_stock_until_it_is_reserved_or_received()
    {
        var shop = new JobShop().Through("60");
        var tube = Await(shop, AwaitedKind.Stock, "45 × 2.5 mm tube", "70").Value;

        var reason = JobShop.Refusal(shop.Start("70"));
        Assert.Equal("stock", reason.Code);
        Assert.Contains("45 × 2.5 mm tube from Rohrwerk, due Tuesday 10 Mar", reason.Text);
        Assert.True(shop.Start("80").IsSuccess);

        Assert.True(shop.Job.EndWait(tube.Number, AwaitedState.Reserved, Owner, shop.Now).IsSuccess);
        Assert.True(shop.Start("70").IsSuccess);
        Assert.Equal(
            "notOpen",
            Refused(shop.Job.EndWait(tube.Number, AwaitedState.Received, Owner, shop.Now).Failure).Code
        );
    }

    [Fact]
    public void Work_sent_out_is_returned_and_never_reserved()
    {
        var shop = new JobShop().Through("160");
        var coat = Await(shop, AwaitedKind.SentOut, "powder coat", "170").Value;

        Assert.Equal("sentOut", JobShop.Refusal(shop.Start("170")).Code);
        Assert.IsType<Failure.Invalid>(shop.Job.EndWait(coat.Number, AwaitedState.Reserved, Owner, shop.Now).Failure);
        Assert.True(shop.Job.EndWait(coat.Number, AwaitedState.Returned, Owner, shop.Now).IsSuccess);
        Assert.True(shop.Start("170").IsSuccess);
    }

    [Fact]
    public void Gate_of_the_route_for_stock_is_closed_until_something_of_its_code_is_there()
    {
        var shop = WithGate(GateKind.Stock, "hoop-tube");

        Assert.Contains("neither reserved nor received", JobShop.Refusal(shop.Start("10")).Text);

        var tube = shop.Job.Await(AwaitedKind.Stock, "hoop tube", "hoop-tube", null, null, [], Owner, shop.Now).Value;
        Assert.Contains("Waiting for stock", JobShop.Refusal(shop.Start("10")).Text);
        Assert.True(shop.Job.EndWait(tube.Number, AwaitedState.Received, Owner, shop.Now).IsSuccess);
        Assert.True(shop.Start("10").IsSuccess);
    }

    [Fact]
    public void Second_person_is_somebody_else_and_counts_for_one_shift()
    {
        var shop = WithGate(GateKind.SecondPerson, null);
        Assert.Equal("secondPerson", JobShop.Refusal(shop.Start("10")).Code);

        Present(shop, GateKind.SecondPerson, JobShop.Mara, null);
        Assert.Contains("somebody else", JobShop.Refusal(shop.Start("10", JobShop.Mara)).Text);
        Assert.True(shop.Start("10", JobShop.Ivo).IsSuccess);
        Assert.True(shop.Stop("10", JobShop.Ivo).IsSuccess);

        shop.Pass(TimeSpan.FromHours(13));
        Assert.Equal("secondPerson", JobShop.Refusal(shop.Start("10", JobShop.Ivo)).Code);
    }

    [Fact]
    public void Qualified_person_is_named_and_only_where_the_route_asks_for_one()
    {
        var shop = WithGate(GateKind.QualifiedPerson, null);
        Assert.Equal("qualifiedPerson", JobShop.Refusal(shop.Start("10")).Code);
        Assert.IsType<Failure.Invalid>(
            shop.Job.RecordPresence("10", GateKind.QualifiedPerson, Owner, null, null, shop.Now).Failure
        );
        Present(shop, GateKind.QualifiedPerson, JobShop.Ivo, "T. Test");
        Assert.True(shop.Start("10").IsSuccess);
        Assert.Equal(
            "notAsked",
            Refused(
                new JobShop().Job.RecordPresence("10", GateKind.SecondPerson, Owner, null, null, shop.Now).Failure
            ).Code
        );
    }

    [Fact]
    public void Owner_stops_a_job_and_alone_the_named_operations_or_all_of_them()
    {
        var shop = new JobShop().Through("60");
        var some = shop.Job.StopByOwner("Plates are the wrong batch.", ["70"], Owner, shop.Now).Value;
        var reason = JobShop.Refusal(shop.Start("70"));
        Assert.Equal("ownerHold", reason.Code);
        Assert.Contains("Plates are the wrong batch.", reason.Text);
        Assert.True(shop.Start("80").IsSuccess);

        Assert.True(shop.Job.LiftOwnerHold(some.Number, Owner, shop.Now).IsSuccess);
        Assert.True(shop.Job.StopByOwner("Wait.", [], Owner, shop.Now).IsSuccess);
        Assert.Equal("ownerHold", JobShop.Refusal(shop.Start("70")).Code);
        Assert.True(shop.Finish("80").IsSuccess);
    }

    [Fact]
    public void Owner_overrides_the_check_with_a_reason_and_rework_opens_the_way_again()
    {
        var shop = Corner();
        Assert.Equal("buildSequence", JobShop.Refusal(shop.Start("10")).Code);
        Assert.Equal(
            "nothingToOverride",
            Refused(shop.Job.OverrideSequence("20", "No reason", Owner, shop.Facts).Failure).Code
        );

        Assert.True(shop.Job.OverrideSequence("10", "The tube is scrap anyway.", Owner, shop.Facts).IsSuccess);
        Assert.True(shop.Finish("10").IsSuccess);
        Assert.Equal("The tube is scrap anyway.", shop.Job.Operation("10")!.Override!.Reason);
        Assert.Equal("accessWay", JobShop.Refusal(shop.Start("20")).Code);
        var outlook = JobOutlook.Of(shop.Job);
        Assert.False(outlook.CanFinish);
        Assert.Contains(outlook.Sentences, s => s.StartsWith("20 ", StringComparison.Ordinal));

        var rework = shop.Job.AddRework(
            "10",
            new RouteOperation
            {
                Code = "",
                Title = "Tube cut out again",
                Phase = Phase.MockUp,
                Skill = "welder",
                Place = "bay",
                Opens = ["open"],
            },
            null,
            shop.NewId<OperationId>
        );
        Assert.Equal(("11", "10"), (rework.Value.Code, rework.Value.Mends));
        Assert.True(JobOutlook.Of(shop.Job).CanFinish);
        Assert.True(shop.Finish("11").IsSuccess);
        Assert.True(shop.Finish("20").IsSuccess);
    }

    [Fact]
    public void Rework_of_an_operation_holds_up_what_comes_straight_after_it()
    {
        var shop = new JobShop().Through("140");
        var rework = shop.Job.AddRework(
            "140",
            shop.Job.Operation("140")!.Route with
            {
                Code = "",
                Title = "Left brace joint ground out and welded again",
            },
            null,
            shop.NewId<OperationId>
        );

        Assert.Equal("141", rework.Value.Code);
        Assert.Equal(["140", "141", "150"], shop.Job.Operations.Select(o => o.Code).SkipWhile(c => c != "140").Take(3));
        Assert.Equal("141", JobShop.Refusal(shop.Start("150")).Operation);
        Assert.True(shop.Finish("141").IsSuccess);
        Assert.True(shop.Start("150").IsSuccess);
        Assert.Equal(
            "notBegun",
            Refused(
                shop.Job.AddRework("190", rework.Value.Route with { Code = "" }, null, shop.NewId<OperationId>).Failure
            ).Code
        );
    }

    [Fact]
    public void Rework_that_would_build_the_car_into_a_corner_is_refused()
    {
        var shop = new JobShop().Through("100");
        var refused = Refused(
            shop.Job.AddRework(
                "100",
                shop.Job.Operation("100")!.Route with
                {
                    Code = "",
                    Title = "Hoop foot tacked behind as well",
                    NeedsOpen = [],
                    Closes = ["hoop-can-tilt"],
                },
                null,
                shop.NewId<OperationId>
            ).Failure
        );

        Assert.Equal("buildSequence", refused.Code);
        Assert.Contains("the hoop free to rock forward", refused.Text);
    }

    [Fact]
    public void What_a_job_waits_for_names_from_whom_and_since_when()
    {
        var shop = new JobShop().Through("60");
        shop.Pass(TimeSpan.FromHours(1));
        Await(shop, AwaitedKind.Stock, "plates", "70", "80");
        shop.HoldLines.Add(new OpenHoldLine("60", "Bare metal all round", false));

        var waits = JobWaits.Of(shop.Job, shop.Facts);

        Assert.Equal(["holdPoint", "stock"], waits.Select(w => w.Kind));
        Assert.Equal(("an inspector", JobShop.Monday), (waits[0].Whom, waits[0].Since));
        Assert.Equal(["70", "80"], waits[1].Operations);
        Assert.Equal(
            ("Rohrwerk", shop.Now, new DateOnly(2026, 3, 10)),
            (waits[1].Whom, waits[1].Since, waits[1].DueOn)
        );
    }

    private static Reason Refused(Failure? failure) => Assert.Single(Assert.IsType<Failure.Refused>(failure).Reasons);

    private static Outcome<AwaitedThing> Await(JobShop shop, AwaitedKind kind, string what, params string[] waiting) =>
        shop.Job.Await(kind, what, null, "Rohrwerk", new DateOnly(2026, 3, 10), waiting, Owner, shop.Now);

    private static void Present(JobShop shop, GateKind kind, PersonId who, string? name) =>
        Assert.True(shop.Job.RecordPresence("10", kind, new Worker(who, null), name, null, shop.Now).IsSuccess);

    private static JobShop WithGate(GateKind kind, string? part) =>
        new(route: [Plain("10") with { Gates = [new RouteGate { Kind = kind, Part = part }] }]);

    /// <summary>10 closes a way that 20 needs; nothing opens it again.</summary>
    private static JobShop Corner() =>
        new(route: [Plain("10") with { Closes = ["open"] }, Plain("20") with { NeedsOpen = ["open"] }]);

    private static RouteOperation Plain(string code) =>
        new()
        {
            Code = code,
            Title = $"Step {code}",
            Phase = Phase.MockUp,
            Skill = "welder",
            Place = "bay",
        };
}
