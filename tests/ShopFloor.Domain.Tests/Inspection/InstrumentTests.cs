using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using static ShopFloor.Domain.Tests.Inspection.Sample;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class InstrumentTests
{
    private static readonly DateOnly Today = new(2026, 3, 2);

    private static PlannedLine Diameter =>
        new(
            "tube-diameter",
            "120",
            "Hoop tube diameter",
            "Caliper",
            "Common practice",
            Unit: "mm",
            Lower: 44.2m,
            Upper: 45.3m
        );

    private static PlannedLine Pair =>
        new(
            "hinge-pair",
            "230",
            "Angles of the door bar",
            "Angle gauge",
            "Common practice",
            Unit: "°",
            Nominal: 0,
            Lower: -2,
            Upper: 2,
            Pair: ["Straight-leg angle", "Angle past the bend"]
        );

    [Theory]
    [InlineData("Caliper at the plate's edge", InstrumentKind.Caliper)]
    [InlineData("Angle gauge on the hoop's leg, car level", InstrumentKind.AngleGauge)]
    [InlineData("Level on the bar, car level", InstrumentKind.Level)]
    [InlineData("Tallest usual driver seated, belt on, tape to the nearest tube", InstrumentKind.Tape)]
    [InlineData("Feeler or card at the nearest place, door shut", InstrumentKind.FeelerGauge)]
    [InlineData("Length times width on the floor", null)]
    [InlineData("By eye under a lamp", null)]
    public void The_plan_names_its_instrument_in_words(string how, InstrumentKind? kind) =>
        Assert.Equal(kind, InstrumentWords.NamedIn(how));

    [Fact]
    public void A_line_measured_with_an_instrument_of_the_register_passes_only_where_the_reading_says_with_what()
    {
        var job = Opened(Diameter);
        HashSet<InstrumentKind> register = [InstrumentKind.Caliper];
        Outcome<Reading> Read(ReadingInput input, IReadOnlySet<InstrumentKind> held) =>
            job.Record("tube-diameter", input with { Register = held }, ByInspector, Noon, Noon);

        var refused = Assert.IsType<Failure.Invalid>(Read(new(Value: 45), register).Failure);
        Assert.Equal("instrumentId", Assert.Single(refused.Errors).Path);
        Assert.Empty(job.Line("tube-diameter").Readings);
        // A failure is never refused, nor what no instrument of the register could have measured.
        Assert.False(Read(new(Value: 47), register).Value.Passed);
        Assert.True(Read(new(Value: 45), new HashSet<InstrumentKind> { InstrumentKind.Tape }).IsSuccess);
        Assert.True(Read(new(Value: 45, Note: "Borrowed micrometer"), register).IsSuccess);
    }

    [Fact]
    public void What_was_typed_is_kept_beside_its_exact_value()
    {
        var job = Opened(Diameter);
        var reading = Enter(job, "1-3/4\"").Value;
        Assert.Equal(("1-3/4\"", 44.45m, true), (reading.Entered, reading.Value, reading.Passed));
    }

    [Fact]
    public void A_typed_value_out_of_limit_fails_by_itself() =>
        Assert.False(Enter(Opened(Diameter), "1 5/8 in").Value.Passed);

    [Fact]
    public void A_value_nearer_to_its_limit_than_the_instrument_can_tell_asks_for_a_second_reading()
    {
        var job = Opened(Diameter);
        var first = Enter(job, "44.22", Caliper()).Value;
        Assert.True(first.Passed);
        Assert.True(first.IsClose);
        Assert.Equal(LineState.ReadAgain, job.Line("tube-diameter").State);
        Assert.Equal("lineReadAgain", job.RefusalsToSignOff(Request(Sample.Inspector)).Single().Code);
        Enter(job, "44.21", Caliper(), minute: 1);
        Assert.Equal(LineState.Passed, job.Line("tube-diameter").State);
    }

    [Theory]
    [InlineData("44.23", false)] // exactly the uncertainty away
    [InlineData("44.22", true)]
    [InlineData("45.28", true)]
    [InlineData("44.7", false)]
    public void Close_means_less_than_the_uncertainty_from_a_limit(string value, bool isClose) =>
        Assert.Equal(isClose, Enter(Opened(Diameter), value, Caliper()).Value.IsClose);

    [Fact]
    public void A_second_reading_that_fails_fails_the_line_and_a_correction_is_no_second_reading()
    {
        var job = Opened(Diameter);
        Enter(job, "44.22", Caliper());
        Enter(job, "44.1", Caliper(), minute: 1);
        Assert.Equal(LineState.Failed, job.Line("tube-diameter").State);

        job = Opened(Diameter);
        Enter(job, "44.22", Caliper());
        Enter(job, "44.21", Caliper(), minute: 1, corrects: 1);
        Assert.Equal(LineState.ReadAgain, job.Line("tube-diameter").State);
    }

    [Fact]
    public void An_instrument_in_inches_is_weighed_in_the_lines_millimetres()
    {
        var reading = Enter(Opened(Diameter), "44.22", Caliper("in", 0.002m)).Value; // 0.0508 mm
        Assert.Equal((0.0508m, true), (reading.Uncertainty, reading.IsClose));
    }

    [Fact]
    public void Nothing_passes_by_an_instrument_that_is_overdue_but_a_failure_is_taken()
    {
        var job = Opened(Diameter);
        var overdue = Caliper(due: Today.AddDays(-1));
        var refused = Assert.IsType<Failure.Refused>(Enter(job, "44.45", overdue).Failure);
        Assert.Contains(
            "was due for calibration on 1 Mar 2026",
            refused.Reasons.Single().Text,
            StringComparison.Ordinal
        );
        Assert.True(Enter(job, "46", overdue).IsSuccess);
        Assert.True(Enter(job, "44.45", Caliper(due: Today), minute: 1).IsSuccess);
    }

    [Fact]
    public void A_pair_of_angles_computes_its_difference_and_judges_it()
    {
        var job = Opened(Pair);
        var even = job.Record("hinge-pair", Angles("25.5", "24"), ByInspector, Noon, Noon).Value;
        Assert.Equal((1.5m, 25.5m, 24m, true), (even.Value, even.First, even.Second, even.Passed));
        var off = job.Record("hinge-pair", Angles("22", "24.5"), ByInspector, Noon, Noon).Value;
        Assert.Equal((-2.5m, false), (off.Value, off.Passed));
    }

    [Fact]
    public void A_pair_needs_both_angles_and_a_single_value_takes_one()
    {
        var half = Opened(Pair).Record("hinge-pair", Angles("25", null), ByInspector, Noon, Noon);
        Assert.Equal("enteredSecond", Assert.IsType<Failure.Invalid>(half.Failure).Errors.Single().Path);
        var twice = Opened(Diameter).Record("tube-diameter", Angles("44.5", "44.6"), ByInspector, Noon, Noon);
        Assert.Equal("enteredSecond", Assert.IsType<Failure.Invalid>(twice.Failure).Errors.Single().Path);
    }

    /// <summary>Two readings of ±0.5° differ by ±0.7071°: the root of the sum of squares.</summary>
    [Theory]
    [InlineData("25", "23.70", true)] // 1.30, which is 0.70 from the limit
    [InlineData("25", "23.71", false)] // 1.29, which is 0.71 from it
    public void The_difference_of_two_angles_is_less_certain_than_one(string first, string second, bool isClose)
    {
        var input = Angles(first, second) with { Instrument = Caliper("°", 0.5m) };
        var reading = Opened(Pair).Record("hinge-pair", input, ByInspector, Noon, Noon).Value;
        Assert.Equal((0.70710678m, isClose), (reading.Uncertainty, reading.IsClose));
    }

    [Fact]
    public void Another_persons_failed_reading_is_corrected_by_an_inspector_only()
    {
        var job = Opened(Diameter);
        Enter(job, "46", by: ByInspector);
        var refused = job.Record("tube-diameter", new ReadingInput(Entered: "44.5", Corrects: 1), ByWelder, Noon, Noon);
        Assert.IsType<Failure.Forbidden>(refused.Failure);
        Assert.True(Enter(job, "44.5", corrects: 1, by: ByInspector).IsSuccess);
        var again = Enter(job, "44.6", corrects: 1, by: ByInspector);
        Assert.Equal("corrects", Assert.IsType<Failure.Invalid>(again.Failure).Errors.Single().Path);
    }

    [Fact]
    public void An_instrument_is_kept_with_name_kind_unit_and_uncertainty_and_is_not_changed_once_retired()
    {
        var wrong = Instrument.Add(default, new("", null, "furlong", -1, null, null), null, Noon);
        Assert.Equal(
            ["kind", "name", "uncertainty", "unit"],
            Assert.IsType<Failure.Invalid>(wrong.Failure).Errors.Select(e => e.Path).Order()
        );
        var caliper = Caliper().Instrument;
        Assert.True(caliper.Retire(null, Noon).IsSuccess);
        Assert.IsType<Failure.Refused>(caliper.Retire(null, Noon).Failure);
        Assert.Contains("out of use", caliper.RefusalOn(Today), StringComparison.Ordinal);
    }

    private static ReadingInput Angles(string? first, string? second) => new(Entered: first, EnteredSecond: second);

    private static InstrumentInUse Caliper(string unit = "mm", decimal uncertainty = 0.03m, DateOnly? due = null) =>
        new(
            Instrument
                .Add(
                    InstrumentId.From(new Guid("01950000-0000-7000-8000-0000000000c1")),
                    new("Caliper 1", InstrumentKind.Caliper, unit, uncertainty, due, null),
                    null,
                    Noon
                )
                .Value,
            Today
        );

    private static Outcome<Reading> Enter(
        JobInspection job,
        string text,
        InstrumentInUse? with = null,
        int minute = 0,
        int? corrects = null,
        ReadingBy? by = null
    ) =>
        job.Record(
            "tube-diameter",
            new ReadingInput(Entered: text, Corrects: corrects, Instrument: with),
            by ?? ByWelder,
            Noon.AddMinutes(minute),
            Noon.AddMinutes(minute)
        );
}
