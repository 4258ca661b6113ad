using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using static ShopFloor.Domain.Tests.Inspection.Sample;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class ReadingTests
{
    [Theory]
    [InlineData("-1", true)]
    [InlineData("-1.0001", false)]
    [InlineData("0", true)]
    [InlineData("1", true)]
    [InlineData("1.0001", false)]
    [InlineData("1.00000001", false)] // eight decimals are judged and kept
    [InlineData("1.000000004", true)]
    public void A_value_at_the_limit_passes_and_one_beyond_fails_by_itself(string value, bool passes)
    {
        var job = Opened(Upright);
        var reading = job.Record(
            "hoop-upright",
            new ReadingInput(Value: decimal.Parse(value, System.Globalization.CultureInfo.InvariantCulture)),
            ByWelder,
            Noon,
            Noon
        ).Value;
        Assert.Equal(passes, reading.Passed);
        Assert.Equal(passes ? LineState.Passed : LineState.Failed, job.Line("hoop-upright").State);
    }

    [Fact]
    public void A_value_within_limits_can_still_be_failed_for_another_reason()
    {
        var job = Opened(Upright);
        var reading = job.Record("hoop-upright", new ReadingInput(Value: 0, Passed: false), ByWelder, Noon, Noon).Value;
        Assert.False(reading.Passed);
    }

    [Fact]
    public void Saying_passed_does_not_pass_a_value_out_of_limit()
    {
        var job = Opened(Upright);
        var reading = job.Record(
            "hoop-upright",
            new ReadingInput(Value: 5, Passed: true),
            ByInspector,
            Noon,
            Noon
        ).Value;
        Assert.False(reading.Passed);
    }

    [Fact]
    public void A_measured_line_is_not_passed_without_its_value()
    {
        var job = Opened(Upright);
        var outcome = job.Record("hoop-upright", new ReadingInput(Passed: true), ByInspector, Noon, Noon);
        Assert.Equal("value", Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Single().Path);
        Assert.Equal(LineState.Open, job.Line("hoop-upright").State);
    }

    [Fact]
    public void A_line_answered_by_eye_takes_no_value_and_needs_an_answer()
    {
        var job = Opened(Bare);
        var withValue = job.Record("bare-metal", new ReadingInput(Value: 1), ByWelder, Noon, Noon);
        Assert.Equal("value", Assert.IsType<Failure.Invalid>(withValue.Failure).Errors.Single().Path);
        var empty = job.Record("bare-metal", new ReadingInput(), ByWelder, Noon, Noon);
        Assert.Equal("result", Assert.IsType<Failure.Invalid>(empty.Failure).Errors.Single().Path);
    }

    [Fact]
    public void A_photo_line_passes_only_with_a_photo_but_fails_without_one()
    {
        var job = Opened(OffCar);
        var bare = job.Record("off-car-welds", new ReadingInput(Passed: true), ByInspector, Noon, Noon);
        Assert.Equal("photoIds", Assert.IsType<Failure.Invalid>(bare.Failure).Errors.Single().Path);
        Assert.True(job.Record("off-car-welds", new ReadingInput(Passed: false), ByInspector, Noon, Noon).IsSuccess);
        Assert.True(
            job.Record(
                "off-car-welds",
                new ReadingInput(Passed: true, PhotoIds: [Photo]),
                ByInspector,
                Noon,
                Noon
            ).IsSuccess
        );
    }

    [Fact]
    public void Only_an_inspector_passes_an_inspectors_line_but_anybody_reports_its_failure()
    {
        var job = Opened(OffCar);
        var input = new ReadingInput(Passed: true, PhotoIds: [Photo]);
        Assert.IsType<Failure.Forbidden>(job.Record("off-car-welds", input, ByWelder, Noon, Noon).Failure);
        Assert.True(job.Record("off-car-welds", input with { Passed = false }, ByWelder, Noon, Noon).IsSuccess);
        Assert.True(job.Record("off-car-welds", input, ByInspector, Noon, Noon).IsSuccess);
    }

    [Fact]
    public void An_integration_reports_failures_and_passes_nothing()
    {
        var job = Opened(Bare, Upright);
        Assert.IsType<Failure.Forbidden>(
            job.Record("bare-metal", new ReadingInput(Passed: true), ByIntegration, Noon, Noon).Failure
        );
        Assert.IsType<Failure.Forbidden>(
            job.Record("hoop-upright", new ReadingInput(Value: 0), ByIntegration, Noon, Noon).Failure
        );
        Assert.True(job.Record("hoop-upright", new ReadingInput(Value: 9), ByIntegration, Noon, Noon).IsSuccess);
    }

    [Fact]
    public void What_the_work_has_not_reached_cannot_pass_but_can_fail()
    {
        var job = Opened(Bare);
        var ahead = new HashSet<string> { "60" };
        var pass = job.Record("bare-metal", new ReadingInput(Passed: true), ByInspector, Noon, Noon, ahead);
        Assert.Equal("tooEarly", Assert.IsType<Failure.Refused>(pass.Failure).Reasons.Single().Code);
        Assert.Empty(job.Line("bare-metal").Readings);
        var fail = job.Record("bare-metal", new ReadingInput(Passed: false), ByInspector, Noon, Noon, ahead);
        Assert.True(fail.IsSuccess);
        ahead.Remove("60");
        Assert.True(job.Record("bare-metal", new ReadingInput(Passed: true), ByInspector, Noon, Noon, ahead).IsSuccess);
    }

    [Fact]
    public void A_correction_keeps_the_first_reading()
    {
        var job = Opened(Upright);
        job.Record("hoop-upright", new ReadingInput(Value: 10), ByWelder, Noon, Noon);
        var correction = job.Record(
            "hoop-upright",
            new ReadingInput(Value: 1, Note: "Typed a nought too many", Corrects: 1),
            ByWelder,
            Noon.AddMinutes(1),
            Noon.AddMinutes(1)
        ).Value;
        var line = job.Line("hoop-upright");
        Assert.Equal([10m, 1m], line.Readings.Select(r => r.Value!.Value));
        Assert.Equal(1, correction.Corrects);
        Assert.Equal(LineState.Passed, line.State);
    }

    [Fact]
    public void A_reading_cannot_correct_one_that_is_not_there()
    {
        var outcome = Opened(Upright)
            .Record("hoop-upright", new ReadingInput(Value: 1, Corrects: 1), ByWelder, Noon, Noon);
        Assert.Equal("corrects", Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Single().Path);
    }

    [Fact]
    public void A_failure_that_arrives_late_is_not_hidden_by_a_pass_read_after_it()
    {
        var job = Opened(Bare);
        job.Record("bare-metal", new ReadingInput(Passed: true), ByInspector, Noon.AddMinutes(5), Noon.AddMinutes(5));
        job.Record("bare-metal", new ReadingInput(Passed: false), ByInspector, Noon, Noon.AddMinutes(10));
        Assert.Equal(LineState.Failed, job.Line("bare-metal").State);
    }

    [Fact]
    public void A_pass_that_arrives_late_does_not_lift_a_failure_read_after_it()
    {
        var job = Opened(Bare);
        job.Record("bare-metal", new ReadingInput(Passed: false), ByInspector, Noon.AddMinutes(5), Noon.AddMinutes(5));
        job.Record("bare-metal", new ReadingInput(Passed: true), ByInspector, Noon, Noon.AddMinutes(10));
        Assert.Equal(LineState.Failed, job.Line("bare-metal").State);
        job.Pass("bare-metal", 20);
        Assert.Equal(LineState.Passed, job.Line("bare-metal").State);
    }

    [Fact]
    public void A_line_that_the_job_does_not_have_is_named_in_the_refusal()
    {
        var outcome = Opened(Bare).Record("nowhere", new ReadingInput(Passed: true), ByWelder, Noon, Noon);
        var error = Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Single();
        Assert.Equal("line", error.Path);
        Assert.Contains("nowhere", error.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_no_instrument_shows_is_refused()
    {
        var outcome = Opened(Upright).Record("hoop-upright", new ReadingInput(Value: 1_000_001), ByWelder, Noon, Noon);
        Assert.Equal("value", Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Single().Path);
    }

    [Fact]
    public void Hold_lines_stop_the_route_until_all_of_the_operation_are_passed()
    {
        var job = Opened(Bare, Bare with { Code = "bare-metal-2" }, Upright);
        Assert.Equal(2, HoldPoints.Outstanding(job.Lines, "60").Count);
        Assert.Empty(HoldPoints.Outstanding(job.Lines, "120"));
        job.Pass("bare-metal");
        Assert.Single(HoldPoints.Outstanding(job.Lines, "60"));
        Assert.Empty(HoldPoints.Passed(job.Lines));
        job.Pass("bare-metal-2");
        Assert.Empty(HoldPoints.Outstanding(job.Lines, "60"));
        Assert.Equal(["60"], HoldPoints.Passed(job.Lines));
        job.Fail("bare-metal", 1);
        Assert.Equal("60", HoldPoints.Outstanding(job.Lines, "60").Single().Operation);
    }
}
