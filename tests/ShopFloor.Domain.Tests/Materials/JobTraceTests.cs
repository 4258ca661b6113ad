using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Tests.Materials;

public sealed class JobTraceTests
{
    private static readonly DateTimeOffset Noon = new(2026, 5, 4, 12, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Today = new(2026, 5, 4);
    private static readonly PersonId Welder = PersonId.From(Guid.CreateVersion7());
    private static readonly PersonId Owner = PersonId.From(Guid.CreateVersion7());
    private static readonly Hand ByWelder = new(Welder, Noon, Noon);
    private static readonly IReadOnlySet<string> Nothing = new HashSet<string>();
    private static readonly CertificateFile Paper = new(new string('a', 64), new string('b', 64), true);
    private static readonly JobMaterial.Details Hoop = new(
        "Main hoop",
        "45 × 2.5 mm",
        "E355",
        "H 4711",
        MaterialOrigin.Stock,
        "Rack 2"
    );

    private static JobTrace Opened(params MaterialKind[] wanted) =>
        JobTrace.Open(
            JobId.From(Guid.CreateVersion7()),
            wanted,
            [new("foot-left", "Hoop foot, left", "190"), new("bar", "Harness bar", "200")],
            Noon
        );

    private static WelderQualification Qualification(DateOnly? until, PersonId? person = null) =>
        WelderQualification
            .Add(
                WelderQualificationId.From(Guid.CreateVersion7()),
                person ?? Welder,
                new("135", "the shop's own test", "W-7", until),
                Owner,
                Noon
            )
            .Value;

    private static JobTrace.WeldDetails Weld(WelderQualification? q, params string[] joints) =>
        new(joints, Welder, q, "WPS 3", null, null, null, Today, null);

    [Fact]
    public void A_job_whose_material_and_welds_are_written_down_lacks_nothing()
    {
        var trace = Opened(MaterialKind.Tube, MaterialKind.Filler);
        var tube = trace.Enter(MaterialKind.Tube, Hoop, ByWelder).Value;
        Assert.True(trace.Certify(tube.Id, Paper, ByWelder).IsSuccess);
        Assert.True(
            trace
                .Enter(MaterialKind.Filler, new("G3Si1", "0.8 mm", null, "L 9", MaterialOrigin.Stock, null), ByWelder)
                .IsSuccess
        );
        Assert.True(trace.Weld(Weld(Qualification(Today), "foot-left", "bar"), ByWelder).IsSuccess);
        Assert.Empty(trace.Gaps(Nothing));
        Assert.Empty(trace.Refusals(Nothing));
    }

    [Fact]
    public void A_record_that_nobody_began_stops_no_car_and_once_begun_it_is_finished()
    {
        var trace = Opened(MaterialKind.Plate);
        Assert.NotEmpty(trace.Gaps(Nothing));
        Assert.Empty(trace.Refusals(Nothing));
        trace.Enter(MaterialKind.Tube, Hoop, ByWelder);
        Assert.Contains(trace.Refusals(Nothing), r => r.Code == "noWelder");
    }

    [Fact]
    public void Each_kind_of_gap_is_a_reason_of_its_own_that_names_what_lacks_it()
    {
        var trace = Opened(MaterialKind.Plate);
        trace.Enter(MaterialKind.Tube, Hoop with { Mark = " " }, ByWelder);
        trace.Weld(Weld(Qualification(Today.AddDays(-1)), "foot-left") with { Procedure = null }, ByWelder);
        var reasons = trace.Refusals(Nothing);
        Assert.Equal(
            ["noMaterial", "noMark", "noCertificate", "expiredQualification", "noProcedure", "noWelder"],
            reasons.Select(r => r.Code)
        );
        Assert.Contains("Plate", reasons[0].Text, StringComparison.Ordinal);
        Assert.Contains("Tube 1 Main hoop", reasons[1].Text, StringComparison.Ordinal);
        Assert.Contains("valid until 2026-05-03, welded 2026-05-04", reasons[3].Text, StringComparison.Ordinal);
        Assert.Contains("Harness bar", reasons[5].Text, StringComparison.Ordinal);
        Assert.All(reasons, r => Assert.Contains("owner accepts it", r.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void An_operation_that_was_not_needed_has_no_joint_to_weld() =>
        Assert.Equal(
            ["Hoop foot, left"],
            Opened().Gaps(new HashSet<string> { "200" }).Where(g => g.Code == "noWelder").Select(g => g.Subject)
        );

    [Fact]
    public void The_owner_accepts_what_is_open_with_a_reason_and_nothing_that_comes_later()
    {
        var trace = Opened();
        Assert.IsType<Failure.Invalid>(trace.Accept(Nothing, null, " ", Owner, Noon).Failure);
        Assert.IsType<Failure.Forbidden>(trace.Accept(Nothing, null, "Known", null, Noon).Failure);
        var accepted = trace.Accept(Nothing, ["joint/bar/welder/0"], "Bought ready made", Owner, Noon).Value;
        Assert.Equal("No welder is written down: Harness bar", JobTrace.Words(Assert.Single(accepted.Gaps)));
        Assert.Equal(["foot-left"], trace.OpenGaps(Nothing).Select(g => g.Key.Split('/')[1]));
        Assert.IsType<Failure.Refused>(trace.Accept(Nothing, ["joint/bar/welder/0"], "Once more", Owner, Noon).Failure);

        // Written down afterwards, and badly: what was accepted was another thing.
        trace.Weld(Weld(null, "bar"), ByWelder);
        Assert.Contains(trace.OpenGaps(Nothing), g => g is { Code: "noQualification", Subject: "Harness bar" });
    }

    [Fact]
    public void A_correction_keeps_the_first_entry_and_its_certificate()
    {
        var trace = Opened();
        var tube = trace.Enter(MaterialKind.Tube, Hoop, ByWelder).Value;
        trace.Certify(tube.Id, Paper, ByWelder);
        Assert.IsType<Failure.Invalid>(trace.Correct(tube.Id, Hoop, "", ByWelder).Failure);
        Assert.True(trace.Correct(tube.Id, Hoop with { Mark = "H 4712" }, "Misread", ByWelder).IsSuccess);
        Assert.Equal(["H 4711", "H 4711", "H 4712"], tube.Entries.Select(e => e.Mark));
        Assert.Equal([null, Paper, Paper], tube.Entries.Select(e => e.Certificate));
        Assert.True(trace.Withdraw(tube.Id, "Was for another car", ByWelder).IsSuccess);
        Assert.Equal(
            "withdrawn",
            Assert.IsType<Failure.Refused>(trace.Certify(tube.Id, Paper, ByWelder).Failure).Reasons[0].Code
        );
        Assert.DoesNotContain(trace.Gaps(Nothing), g => g.Key.StartsWith("material", StringComparison.Ordinal));
    }

    [Fact]
    public void A_weld_keeps_what_the_register_said_on_its_day_and_a_second_entry_leaves_the_first()
    {
        var trace = Opened();
        var qualification = Qualification(Today.AddDays(10));
        var joint = trace.Weld(Weld(qualification, "bar"), ByWelder).Value[0];
        qualification.Change(new("141", "another test", null, Today.AddDays(-10)), Owner, Noon);
        Assert.Equal("135, the shop's own test, no. W-7", joint.Latest!.Qualification);
        Assert.False(joint.Latest.IsExpired);
        trace.Weld(Weld(qualification, "bar"), ByWelder);
        Assert.Equal([false, true], joint.Entries.Select(e => e.IsExpired));
    }

    public static TheoryData<string, Func<JobTrace, Failure?>> Wrong =>
        new()
        {
            { "kind", t => t.Enter(null, Hoop, ByWelder).Failure },
            { "what", t => t.Enter(MaterialKind.Tube, Hoop with { What = null }, ByWelder).Failure },
            { "size", t => t.Enter(MaterialKind.Filler, Hoop with { Size = "" }, ByWelder).Failure },
            { "origin", t => t.Enter(MaterialKind.Gas, Hoop with { Origin = null }, ByWelder).Failure },
            {
                "from",
                t =>
                    t.Enter(
                        MaterialKind.Tube,
                        Hoop with
                        {
                            Origin = MaterialOrigin.Customer,
                            From = null,
                        },
                        ByWelder
                    ).Failure
            },
            { "mark", t => t.Enter(MaterialKind.Tube, Hoop with { Mark = new string('9', 65) }, ByWelder).Failure },
            { "joints", t => t.Weld(Weld(null), ByWelder).Failure },
            { "joints", t => t.Weld(Weld(null, "bar", "nowhere"), ByWelder).Failure },
            { "welder", t => t.Weld(Weld(null, "bar") with { Welder = null }, ByWelder).Failure },
            { "qualification", t => t.Weld(Weld(Qualification(null, Owner), "bar"), ByWelder).Failure },
            { "on", t => t.Weld(Weld(null, "bar") with { On = Today.AddDays(1) }, ByWelder).Failure },
            { "filler", t => t.Weld(Weld(null, "bar") with { Filler = 1 }, ByWelder).Failure },
            { "operation", t => t.AddJoint("Gusset", "999", new HashSet<string> { "190" }, Noon).Failure },
        };

    [Theory]
    [MemberData(nameof(Wrong), DisableDiscoveryEnumeration = true)]
    public void What_is_wrong_is_said_at_its_field_and_nothing_is_written(string field, Func<JobTrace, Failure?> act)
    {
        var trace = Opened();
        Assert.Equal(field, Assert.Single(Assert.IsType<Failure.Invalid>(act(trace)).Errors).Path);
        Assert.Empty(trace.Materials);
        Assert.Equal(2, trace.Joints.Count);
        Assert.All(trace.Joints, j => Assert.Empty(j.Entries));
    }
}
