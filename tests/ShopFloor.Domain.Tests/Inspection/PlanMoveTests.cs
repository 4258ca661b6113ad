using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>Versions of a plan: kept whole, compared in words, and a running job that goes over to another.</summary>
public sealed class PlanMoveTests
{
    private static readonly PlannedLine Stricter = Sample.Upright with { Lower = -0.5m, Upper = 0.5m };
    private static readonly PlannedLine New = new("seats", "120", "Seats move", "By hand", "Common practice");

    [Fact]
    public void What_was_read_stays_as_it_was_read_and_the_rest_is_described_anew()
    {
        var job = Sample.Opened(Sample.Bare, Sample.Upright, Sample.OffCar);
        job.Pass("bare-metal");
        var (before, after) = (
            Built(1, Sample.Bare, Sample.Upright, Sample.OffCar),
            Built(2, New, Stricter, Sample.Bare with { How = "With a lamp" })
        );

        var move = job.PreviewMove(before, after, []);

        Assert.Empty(move.Refusals);
        Assert.Equal(
            [
                ("seats", PlanStepKind.Comes),
                ("hoop-upright", PlanStepKind.Changes),
                ("bare-metal", PlanStepKind.Stays),
                ("off-car-welds", PlanStepKind.Goes),
            ],
            move.Steps.Select(s => (s.Code, s.Kind))
        );
        Assert.Contains("its limits were \"-1 to 1 °\", is \"-0.5 to 0.5 °\".", move.Steps[1].Sentences);
        var moved = job.MoveTo(before, after, [], Sample.Noon.AddHours(1)).Value;
        Assert.Equal("seats", Assert.Single(moved.Came).Code);
        Assert.Equal("off-car-welds", Assert.Single(moved.Went).Code);
        Assert.Equal(["seats", "hoop-upright", "bare-metal"], job.Lines.OrderBy(l => l.Position).Select(l => l.Code));
        Assert.Equal(0.5m, job.Line("hoop-upright").Upper);
        Assert.Equal("By eye", job.Line("bare-metal").How);
        Assert.Single(job.Line("bare-metal").Readings);
        Assert.Equal(2, job.PlanVersion);
    }

    [Fact]
    public void A_dropped_line_that_was_read_stays_on_the_record_and_a_failure_still_has_to_be_settled()
    {
        var job = Sample.Opened(Sample.Bare, Sample.Upright);
        job.Fail("bare-metal");
        var (before, after) = (Built(1, Sample.Bare, Sample.Upright), Built(2, Sample.Upright));

        job.MoveTo(before, after, [], Sample.Noon);

        Assert.Equal(2, job.Line("bare-metal").NotInPlanSince);
        Assert.Contains(
            job.RefusalsToSignOff(Sample.Request(Sample.Inspector)),
            r => r.Code == "lineFailed" && r.Operation == "60"
        );
        job.Pass("bare-metal", 5);
        job.MoveTo(after, Built(3, Sample.Bare, Sample.Upright), [], Sample.Noon);
        Assert.Null(job.Line("bare-metal").NotInPlanSince);
        Assert.Equal(2, job.Line("bare-metal").Readings.Count);
    }

    [Fact]
    public void Lines_agreed_with_a_change_order_are_left_alone()
    {
        var job = Sample.Opened(Sample.Bare);
        job.Add([Line(New with { Code = "CO-1-welds" })], Sample.Noon);

        job.MoveTo(Built(1, Sample.Bare), Built(2, Sample.Bare, Sample.Upright), [], Sample.Noon);

        Assert.Equal(
            ["bare-metal", "hoop-upright", "CO-1-welds"],
            job.Lines.OrderBy(l => l.Position).Select(l => l.Code)
        );
    }

    [Fact]
    public void The_same_version_a_signed_car_and_a_line_that_comes_too_late_are_refused()
    {
        var job = Sample.Opened(Sample.Bare);
        var own = Built(1, Sample.Bare);
        Assert.Equal("sameVersion", Assert.Single(job.PreviewMove(own, own, []).Refusals).Code);
        job.Pass("bare-metal");
        Assert.True(job.SignOff(Sample.Request(Sample.Inspector), Sample.Noon, Sample.Noon).IsSuccess);
        var late = new Reason("planTooLate", "Too late", "120");

        var refused = job.MoveTo(own, Built(2, New), [late], Sample.Noon).Failure;

        Assert.Equal(["signedOff", "planTooLate"], Assert.IsType<Failure.Refused>(refused).Reasons.Select(r => r.Code));
        Assert.Equal(1, job.PlanVersion);
    }

    [Fact]
    public void A_version_keeps_its_document_and_a_changed_character_is_found()
    {
        var plan = Sample.Plan(Sample.Bare with { HiddenBy = ["70"] }, Sample.Upright, Sample.Hinge);
        var version = InspectionPlanVersion.Save(new(Guid.CreateVersion7()), plan, "Why", Sample.Noon, null);

        Assert.True(version.IsWhole);
        // Kept as canonical JSON with decimals as strings (RFC 8785), it reads back as the same plan.
        Assert.Contains("\"lower\":\"-1\"", version.Content, StringComparison.Ordinal);
        Assert.Equal(version.Content, InspectionPlanVersion.Canonical(Stored(version).Plan.Document));
        Assert.Empty(InspectionPlanDifferences.Between(plan.Document, Stored(version).Plan.Document));
        typeof(InspectionPlanVersion)
            .GetProperty(nameof(InspectionPlanVersion.Content))!
            .SetValue(version, version.Content.Replace("-1", "-9", StringComparison.Ordinal));
        Assert.False(version.IsWhole);
    }

    [Fact]
    public void A_line_names_its_operation_what_hides_it_and_what_to_change()
    {
        RouteOperation Step(string code, params string[] after) =>
            new()
            {
                Code = code,
                Title = $"Step {code}",
                Phase = Phase.MockUp,
                Skill = "welder",
                Place = "bay",
                After = after,
            };
        var gated = Step("70", "60") with
        {
            Gates =
            [
                new()
                {
                    Kind = GateKind.HoldPoint,
                    Operation = "60",
                    When = new(),
                },
            ],
        };
        var bare = Sample.Bare with { HiddenBy = ["70"] };

        // A gate with a condition does not hold on every job; on a job's own route it was settled.
        Assert.False(Assert.Single(HoldOrder.Late([bare], [Step("60"), gated])).IsTooLate);
        Assert.Empty(HoldOrder.Late([bare], [Step("60"), gated], areOfOneJob: true));
        var late = Assert.Single(HoldOrder.Late([bare], [Step("70"), Step("60", "70")]));
        Assert.True(late.IsTooLate);
        Assert.Contains("Bare metal under the plates", late.Text, StringComparison.Ordinal);
        Assert.Contains("70 (Step 70)", late.Text, StringComparison.Ordinal);
        Assert.Contains("move the line to an operation before 70", late.Text, StringComparison.Ordinal);
        // A witness line is not waited for, but it comes before what hides it.
        var witness = bare with
        {
            Point = InspectionPoint.Witness,
        };
        Assert.Empty(HoldOrder.Late([witness], [Step("60"), Step("70", "60")]));
        Assert.Single(HoldOrder.Late([witness], [Step("70"), Step("60")]));
    }

    /// <summary>As it comes out of the database: without the plan that it was made from.</summary>
    private static InspectionPlanVersion Stored(InspectionPlanVersion version)
    {
        var stored = (InspectionPlanVersion)Activator.CreateInstance(typeof(InspectionPlanVersion), nonPublic: true)!;
        typeof(InspectionPlanVersion)
            .GetProperty(nameof(InspectionPlanVersion.Content))!
            .SetValue(stored, version.Content);
        return stored;
    }

    private static BuiltPlan Built(int version, params PlannedLine[] lines) =>
        InspectionPlanBuilder
            .Build(
                InspectionPlan.From(Sample.Plan(lines).Document with { Version = version }).Value,
                Sample.Scope(),
                [],
                Sample.Route
            )
            .Value;

    private static LineToCheck Line(PlannedLine line) => InspectionPlan.LineOf(line, "", new FieldErrors())!;
}
