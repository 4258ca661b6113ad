using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using static ShopFloor.Domain.Tests.Inspection.Sample;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class NonconformanceTests
{
    [Fact]
    public void A_failed_line_opens_one_with_what_was_found_and_its_photos()
    {
        var job = Opened(Upright);
        job.Record("hoop-upright", new ReadingInput(Value: 3, PhotoIds: [Photo]), ByWelder, Noon, Noon);
        var fault = job.Nonconformances.Single();
        Assert.Equal(
            (1, "hoop-upright", "120", "3 °, limits -1 to 1 °"),
            (fault.Number, fault.LineCode, fault.OperationCode, fault.Description)
        );
        Assert.Equal([Photo], fault.PhotoIds);
        Assert.True(fault.IsOpen);
        job.Fail("hoop-upright", 1);
        Assert.Single(job.Nonconformances);
    }

    [Fact]
    public void Rework_is_done_before_the_line_passes_and_the_passing_reading_closes_it()
    {
        var job = Opened(Bare);
        job.Fail("bare-metal");
        var decided = Decide(job, Disposition.Rework, "Grind the seam out", "61").Value;
        Assert.Equal(["61"], decided.Reworks);
        var unfinished = new HashSet<string> { "61" };
        var pass = new ReadingInput(Passed: true);
        var early = job.Record("bare-metal", pass, ByInspector, Noon, Noon, null, unfinished);
        Assert.Equal("reworkOpen", Assert.IsType<Failure.Refused>(early.Failure).Reasons.Single().Code);
        Assert.True(
            job.Record("bare-metal", pass with { Passed = false }, ByInspector, Noon, Noon, null, unfinished).IsSuccess
        );
        unfinished.Clear();
        Assert.True(job.Record("bare-metal", pass, ByInspector, Noon, Noon, null, unfinished).IsSuccess);
        var closed = job.Nonconformances.Single();
        Assert.Equal((false, 3, Disposition.Rework), (closed.IsOpen, closed.ClosedByReading, closed.Disposition));
    }

    [Fact]
    public void A_fault_that_is_accepted_with_a_reason_settles_its_line_until_it_fails_again()
    {
        var job = Opened(Bare);
        job.Fail("bare-metal");
        Assert.Equal("lineFailed", job.RefusalsToSignOff(Request(Sample.Inspector)).Single().Code);
        var without = Decide(job, Disposition.Accept, " ");
        Assert.Equal("reason", Assert.IsType<Failure.Invalid>(without.Failure).Errors.Single().Path);
        Decide(job, Disposition.Accept, "Behind the plate, sealed");
        Assert.Equal(LineState.Accepted, job.Line("bare-metal").State);
        Assert.Empty(HoldPoints.Outstanding(job.Lines, "60"));
        Assert.Empty(job.RefusalsToSignOff(Request(Sample.Inspector)));
        job.Fail("bare-metal", 5);
        Assert.Equal(2, job.Nonconformances.Count);
        Assert.Equal(LineState.Failed, job.Line("bare-metal").State);
    }

    [Fact]
    public void A_rejected_part_stays_open_until_what_replaces_it_passes()
    {
        var job = Opened(Bare);
        job.Fail("bare-metal");
        Decide(job, Disposition.Reject, "Cut too short");
        Assert.True(job.Nonconformances.Single().IsOpen);
        job.Pass("bare-metal", 5);
        Assert.False(job.Nonconformances.Single().IsOpen);
    }

    [Fact]
    public void Only_a_person_decides_and_nothing_is_decided_twice_or_after_the_sign_off()
    {
        var job = Opened(Bare);
        Assert.IsType<Failure.NotFound>(Decide(job, Disposition.Reject, "Why").Failure);
        job.Fail("bare-metal");
        Assert.IsType<Failure.Forbidden>(
            job.DecideNonconformance(1, Disposition.Reject, "Why", null, null, Noon).Failure
        );
        var nowhere = Decide(job, Disposition.Rework, "Why");
        Assert.Equal("operation", Assert.IsType<Failure.Invalid>(nowhere.Failure).Errors.Single().Path);
        job.Pass("bare-metal", 5);
        Assert.Equal("nonconformanceClosed", Code(Decide(job, Disposition.Reject, "Why")));
        Assert.True(job.SignOff(Request(Sample.Inspector), Noon, Noon).IsSuccess);
        Assert.Equal("signedOff", Code(Decide(job, Disposition.Reject, "Why")));
        Assert.Equal("signedOff", Code(job.DescribeNonconformance(1, "Late", null, [], Noon)));
    }

    [Fact]
    public void A_mistyped_reading_leaves_its_nonconformance_on_record_as_none()
    {
        var job = Opened(Upright);
        job.Record("hoop-upright", new ReadingInput(Value: 10), ByWelder, Noon, Noon);
        job.Record("hoop-upright", new ReadingInput(Value: 1, Corrects: 1), ByWelder, Noon, Noon);
        var fault = job.Nonconformances.Single();
        Assert.Equal((false, true), (fault.IsOpen, fault.WasMistyped));
        Assert.Equal("The reading was mistyped and corrected", NonconformanceWords.Done(fault, null));
    }

    [Fact]
    public void Description_cause_and_photos_are_added_and_nothing_is_lost_by_leaving_a_field_empty()
    {
        var job = Opened(Bare);
        job.Fail("bare-metal");
        job.DescribeNonconformance(1, "Sealer left in the seam", FaultCause.Preparation, [Photo], Noon);
        job.DescribeNonconformance(1, null, null, [Photo], Noon);
        var fault = job.Nonconformances.Single();
        Assert.Equal(("Sealer left in the seam", FaultCause.Preparation), (fault.Description, fault.Cause));
        Assert.Equal([Photo], fault.PhotoIds);
        var tooLong = job.DescribeNonconformance(1, new string('x', TextRules.Note + 1), null, [], Noon);
        Assert.Equal("description", Assert.IsType<Failure.Invalid>(tooLong.Failure).Errors.Single().Path);
    }

    private static Outcome<Nonconformance> Decide(
        JobInspection job,
        Disposition what,
        string reason,
        string? rework = null
    ) => job.DecideNonconformance(1, what, reason, rework, Welder, Noon);

    private static string Code<T>(Outcome<T> outcome) =>
        Assert.IsType<Failure.Refused>(outcome.Failure).Reasons.Single().Code;
}
