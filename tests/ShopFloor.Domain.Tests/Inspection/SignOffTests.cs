using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using static ShopFloor.Domain.Tests.Inspection.Sample;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class SignOffTests
{
    [Fact]
    public void A_car_with_all_lines_passed_is_signed_off_by_a_person_who_did_no_work_on_it()
    {
        var job = Opened(Bare, Upright);
        job.Pass("bare-metal");
        job.Pass("hoop-upright");
        var signOff = job.SignOff(Request(Sample.Inspector), Noon, Noon).Value;
        Assert.False(signOff.IsSelfInspection);
        Assert.Same(signOff, job.Current);
    }

    [Fact]
    public void Each_open_and_each_failed_line_is_a_reason_of_its_own()
    {
        var job = Opened(Bare, Upright, OffCar);
        job.Pass("bare-metal");
        job.Fail("off-car-welds");
        var refused = Assert.IsType<Failure.Refused>(job.SignOff(Request(Sample.Inspector), Noon, Noon).Failure);
        Assert.Equal(["lineOpen", "lineFailed"], refused.Reasons.Select(r => r.Code));
        Assert.Equal(["120", "150"], refused.Reasons.Select(r => r.Operation));
    }

    [Fact]
    public void Whoever_worked_on_the_car_may_not_sign_it_off()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        var refused = Assert.IsType<Failure.Refused>(job.SignOff(Request(Welder), Noon, Noon).Failure);
        Assert.Equal("ownWork", refused.Reasons.Single().Code);
    }

    [Fact]
    public void A_shop_that_allows_self_inspection_gets_it_written_on_the_sign_off()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        Assert.True(job.SignOff(Request(Welder, selfInspection: true), Noon, Noon).Value.IsSelfInspection);
    }

    [Fact]
    public void Self_inspection_is_not_written_where_another_person_signs()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        Assert.False(job.SignOff(Request(Sample.Inspector, selfInspection: true), Noon, Noon).Value.IsSelfInspection);
    }

    [Fact]
    public void An_integration_does_not_sign_off()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        Assert.IsType<Failure.Forbidden>(job.SignOff(Request(null), Noon, Noon).Failure);
    }

    [Fact]
    public void Other_open_matters_forbid_the_sign_off()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        var open = new Reason("operationOpen", "Operation 250 is not done.", "250");
        var refused = Assert.IsType<Failure.Refused>(
            job.SignOff(Request(Sample.Inspector, open: open), Noon, Noon).Failure
        );
        Assert.Equal([open], refused.Reasons);
    }

    [Fact]
    public void A_car_is_not_signed_off_before_its_account_is_settled_or_released()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        var owing = Request(Sample.Inspector) with { MayGo = false };
        var refused = Assert.IsType<Failure.Refused>(job.SignOff(owing, Noon, Noon).Failure);
        var reason = Assert.Single(refused.Reasons);
        Assert.Equal("balanceDue", reason.Code);
        Assert.Contains(JobAccount.HowItMayGo, reason.Text, StringComparison.Ordinal);
        Assert.True(job.SignOff(owing with { MayGo = true }, Noon, Noon).IsSuccess);
    }

    [Fact]
    public void A_job_without_lines_cannot_be_signed_off()
    {
        var refused = Assert.IsType<Failure.Refused>(
            Opened(Hinge).SignOff(Request(Sample.Inspector), Noon, Noon).Failure
        );
        Assert.Equal("noLines", refused.Reasons.Single().Code);
    }

    [Fact]
    public void A_second_sign_off_is_refused_while_the_first_stands()
    {
        var job = SignedOff();
        var refused = Assert.IsType<Failure.Refused>(job.SignOff(Request(Sample.Inspector), Noon, Noon).Failure);
        Assert.Equal("alreadySignedOff", refused.Reasons.Single().Code);
    }

    [Fact]
    public void A_withdrawn_sign_off_stays_on_record_with_its_reason()
    {
        var job = SignedOff();
        var withdrawn = job.WithdrawSignOff(
            Sample.Inspector,
            "Hinge pin loose on the test drive",
            Noon.AddHours(1)
        ).Value;
        Assert.False(job.IsSignedOff);
        Assert.Same(withdrawn, job.SignOffs.Single());
        Assert.Equal("Hinge pin loose on the test drive", withdrawn.WithdrawnReason);
        Assert.Equal(Sample.Inspector, withdrawn.SignedBy);
        Assert.True(job.SignOff(Request(Sample.Inspector), Noon.AddHours(2), Noon.AddHours(2)).IsSuccess);
        Assert.Equal(2, job.SignOffs.Count);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("  ")]
    public void A_sign_off_is_not_withdrawn_without_a_reason(string? reason)
    {
        var job = SignedOff();
        Assert.IsType<Failure.Invalid>(job.WithdrawSignOff(Sample.Inspector, reason, Noon).Failure);
        Assert.True(job.IsSignedOff);
    }

    [Fact]
    public void There_is_nothing_to_withdraw_where_nobody_signed() =>
        Assert.IsType<Failure.Refused>(Opened(Bare).WithdrawSignOff(Sample.Inspector, "Why", Noon).Failure);

    [Fact]
    public void No_reading_is_taken_while_the_car_is_signed_off()
    {
        var job = SignedOff();
        var refused = Assert.IsType<Failure.Refused>(job.Fail("bare-metal", 9).Failure);
        Assert.Equal("signedOff", refused.Reasons.Single().Code);
        Assert.Equal(LineState.Passed, job.Line("bare-metal").State);
    }

    /// <summary>Every order of actions, by whomever and whenever it arrives: a signed-off job has no line that its readings leave open or failed.</summary>
    [Fact]
    public void No_order_of_actions_reaches_signed_off_with_an_open_line()
    {
        string[] codes = ["bare-metal", "hoop-upright", "off-car-welds", "nowhere"];
        ReadingBy[] people = [ByWelder, ByInspector, ByIntegration];
        var step = Gen.Select(Gen.Int[0, 12], Gen.Int[0, 3], Gen.Int[0, 2], Gen.Int[-30, 30], Gen.Int[0, 3]);
        var (signedOff, accepted) = (0, 0);
        step.Array[0, 60]
            .Sample(
                steps =>
                {
                    var job = Opened(Bare, Upright, OffCar);
                    var now = Noon;
                    foreach (var (action, line, person, late, kind) in steps)
                    {
                        now = now.AddMinutes(1);
                        var by = people[person];
                        switch (action)
                        {
                            case 0:
                                job.WithdrawSignOff(by.Person, kind == 0 ? null : "Found something", now);
                                break;
                            case <= 2:
                                var wasSigned = job.IsSignedOff;
                                job.SignOff(
                                    Request(by.Person, selfInspection: kind == 0) with
                                    {
                                        MayGo = late > -20,
                                    },
                                    now,
                                    now
                                );
                                Assert.True(job.IsSignedOff == wasSigned || late > -20);
                                break;
                            case <= 6:
                                job.Pass(codes[line == 3 ? 0 : line]);
                                break;
                            case 7 or 8:
                                job.DecideNonconformance(
                                    job.Nonconformances.LastOrDefault(n => n.LineCode == codes[line])?.Number ?? 1,
                                    (Disposition)(kind % 3),
                                    late > 20 ? " " : "Decided",
                                    kind == 3 ? null : "61",
                                    by.Person,
                                    now
                                );
                                break;
                            case 9:
                                job.DescribeNonconformance(kind, "Seen again", FaultCause.Welding, [Photo], now);
                                break;
                            default:
                                var input = new ReadingInput(
                                    Value: line == 1 ? kind - 1.5m : null,
                                    Passed: line == 1 && kind > 1 ? null : kind > 1,
                                    PhotoIds: kind == 3 ? [Photo] : []
                                );
                                var unfinished = new HashSet<string>(kind == 1 ? ["61"] : []);
                                job.Record(codes[line], input, by, now.AddMinutes(late), now, null, unfinished);
                                break;
                        }

                        Assert.All(
                            job.Lines,
                            l =>
                                Assert.Equal(
                                    l.State == LineState.Failed,
                                    job.Nonconformances.Any(n => n.IsOpen && n.LineCode == l.Code)
                                )
                        );
                        if (job.IsSignedOff)
                        {
                            Interlocked.Increment(ref signedOff);
                            Interlocked.Add(ref accepted, job.Lines.Count(l => l.State == LineState.Accepted));
                            Assert.All(job.Lines, l => Assert.True(l.State.IsSettled()));
                            Assert.DoesNotContain(job.Nonconformances, n => n.IsOpen);
                            Assert.All(
                                job.Lines.Where(l => l.State == LineState.Accepted),
                                l =>
                                    Assert.Equal(
                                        Disposition.Accept,
                                        job.Nonconformances.Last(n => n.LineCode == l.Code).Disposition
                                    )
                            );
                            var passed = job.Lines.Where(l => l.State == LineState.Passed).ToList();
                            Assert.All(passed, l => Assert.True(l.Readings[^1].Passed));
                            Assert.All(
                                passed,
                                l =>
                                    Assert.True(
                                        l.Readings.MaxBy(r => r.OccurredAt)!.Passed
                                            || l.Readings.Count(r => r.OccurredAt == l.Readings.Max(o => o.OccurredAt))
                                                > 1
                                    )
                            );
                            Assert.Single(job.SignOffs, s => s.Stands);
                        }
                    }
                },
                iter: 3_000
            );
        Assert.True(signedOff > 0, "The walks never signed a car off, so they showed nothing.");
        Assert.True(accepted > 0, "The walks never signed a car off with an accepted fault.");
    }

    private static JobInspection SignedOff()
    {
        var job = Opened(Bare);
        job.Pass("bare-metal");
        _ = job.SignOff(Request(Sample.Inspector), Noon, Noon).Value;
        return job;
    }
}
