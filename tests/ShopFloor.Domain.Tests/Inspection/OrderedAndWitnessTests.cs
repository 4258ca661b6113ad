using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>Limits that go by the tube ordered, and notice of witness points.</summary>
public sealed class OrderedAndWitnessTests
{
    private static readonly PlannedLine Wall = new(
        "tube-wall",
        "120",
        "Hoop tube wall",
        "Caliper at a cut end",
        "Tolerance: common practice",
        Unit: "mm",
        Ordered: new OrderedLimit("hoop", TubeMeasure.Wall, 0.25m, 0.3m)
    );

    [Theory]
    // 1.75 × 0.095 in is 44.45 × 2.413 mm (1 in = 25.4 mm exactly); the limits go by what was ordered, not by a fixed size.
    [InlineData("45", "2.5", "2.25", "2.8")]
    [InlineData("44.45", "2.413", "2.163", "2.713")]
    [InlineData("50", "2", "1.75", "2.3")]
    public void The_limits_go_by_the_size_ordered(string diameter, string wall, string lower, string upper)
    {
        var line = Opened(new OrderedTube(Number(diameter), Number(wall), "Main hoop, quote Q-1")).Line("tube-wall");

        Assert.Equal((Number(lower), Number(upper), Number(wall)), (line.Lower, line.Upper, line.Nominal));
        Assert.StartsWith($"Ordered {diameter} × {wall} mm (Main hoop, quote Q-1)", line.Source);
        Assert.False(line.NeedsSize);
    }

    [Fact]
    public void Nothing_passes_before_the_size_is_known_and_a_failure_is_taken_always()
    {
        var job = Opened(null);
        Assert.True(job.Line("tube-wall").NeedsSize);
        Assert.Contains("not known", job.Line("tube-wall").LimitsInWords, StringComparison.Ordinal);
        var refused = Read(job, 2.5m).Failure;
        Assert.Equal("orderedSizeUnknown", Assert.IsType<Failure.Refused>(refused).Reasons.Single().Code);
        Assert.True(job.Fail("tube-wall").IsSuccess);

        var tube = OrderedTube.Read(45, 2.5m, "Delivery note 17").Value;
        Assert.Single(job.TakeOrdered("hoop", tube, Sample.Noon).Value);

        Assert.Equal(LineState.Failed, job.Line("tube-wall").State);
        Assert.True(Read(job, 2.2m).Value.Passed is false);
        Assert.True(Read(job, 2.5m).Value.Passed);
        Assert.IsType<Failure.Refused>(job.TakeOrdered("hoop", tube, Sample.Noon).Failure);
        Assert.IsType<Failure.Invalid>(OrderedTube.Read(45, 22.5m, "").Failure);
    }

    [Fact]
    public void A_line_that_goes_by_the_ordered_tube_has_no_limits_of_its_own()
    {
        var document = Sample.Plan(Sample.Bare).Document;
        var wrong = Wall with { Lower = 2, Ordered = Wall.Ordered! with { Under = -1 } };
        var errors = Assert
            .IsType<Failure.Invalid>(InspectionPlan.From(document with { Lines = [wrong] }).Failure)
            .Errors;
        Assert.Equal(["lines[0].ordered", "lines[0].ordered.under"], errors.Select(e => e.Path));
        Assert.True(InspectionPlan.From(document with { Lines = [Wall] }).IsSuccess);
    }

    [Fact]
    public void Notice_is_given_once_when_the_work_before_is_over_and_nothing_waits_for_it()
    {
        var shop = new JobShop();
        HashSet<string> witnessed = ["120", "240"];
        HashSet<string> none = [];
        Assert.Empty(WitnessNotice.Due(shop.Job, witnessed, none));
        shop.Through("110");

        var due = Assert.Single(WitnessNotice.Due(shop.Job, witnessed, none));

        Assert.Equal(("120", (DateTimeOffset?)null), (due.Code, due.BegunAt));
        Assert.Empty(WitnessNotice.Due(shop.Job, witnessed, new HashSet<string> { "120" }));
        // Nobody said anything: the work goes on all the same.
        shop.Through("120");
        Assert.True(shop.Job.Operation("120")!.IsOver);
        Assert.Equal("120", Assert.Single(WitnessNotice.Due(shop.Job, witnessed, none)).Code);
    }

    [Fact]
    public void Only_a_person_says_who_was_there_and_it_may_be_said_anew()
    {
        var notice = WitnessNotice.Give(new(Guid.CreateVersion7()), Sample.Job, "120", Sample.Noon);
        Assert.IsType<Failure.Forbidden>(notice.Mark(WitnessOutcome.NotAttended, null, null, Sample.Noon).Failure);
        Assert.IsType<Failure.Invalid>(
            notice.Mark(WitnessOutcome.NotAttended, Sample.Inspector, new string('x', 2000), Sample.Noon).Failure
        );
        Assert.Null(notice.Outcome);
        notice.Mark(WitnessOutcome.NotAttended, Sample.Inspector, null, Sample.Noon);
        notice.Mark(WitnessOutcome.WitnessedByPerson, Sample.Welder, " Saw it ", Sample.Noon.AddHours(1));
        Assert.Equal(
            (WitnessOutcome.WitnessedByPerson, Sample.Welder, "Saw it", Sample.Noon),
            (notice.Outcome, notice.MarkedBy, notice.Note, notice.GivenAt)
        );
    }

    private static Outcome<Reading> Read(JobInspection job, decimal value) =>
        job.Record("tube-wall", new ReadingInput(Value: value), Sample.ByInspector, Sample.Noon, Sample.Noon);

    private static JobInspection Opened(OrderedTube? tube) =>
        JobInspection.Open(
            Sample.Job,
            InspectionPlanBuilder
                .Build(
                    Sample.Plan(Wall),
                    Sample.Scope(),
                    [],
                    Sample.Route,
                    tube is null ? null : new Dictionary<string, OrderedTube> { ["hoop"] = tube }
                )
                .Value,
            Sample.Noon
        );

    private static decimal Number(string text) =>
        decimal.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
