using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;
using static ShopFloor.Domain.Throughput.FigureDefinitions;

namespace ShopFloor.Domain.Tests.Throughput;

/// <summary>The owner's figures from logs written by hand and from random ones.</summary>
public sealed class FlowReportTests
{
    private static readonly DateTimeOffset Monday = At("2026-06-01T00:00:00Z");
    private static readonly DateTimeOffset Later = At("2026-09-01T00:00:00Z");

    [Fact]
    public void Littles_law_of_a_steady_shop_is_the_published_one()
    {
        // 1.5 cars a week, two weeks each: three cars in hand (closed formula). A car comes every 14/3 days, for 84 days.
        var cars = Enumerable
            .Range(0, 60)
            .Select(i =>
                Car(i) with
                {
                    InAt = Day(-100).AddMinutes(i * 6720),
                    FinishedAt = Day(-86).AddMinutes(i * 6720),
                }
            )
            .ToList();
        var law = LittlesLaw.Of(cars, Day(0), Day(84));
        Assert.Equal(3m, law.L);
        Assert.Equal(1.5m, decimal.Round(law.Lambda * 7, 10));
        Assert.Equal(14m, law.W);
        Assert.True(law.TiesOut);
    }

    [Fact]
    public void On_random_logs_Littles_law_ribbons_phases_and_hours_tie_out_to_the_minute() =>
        Gen.Select(CarGen.Array[0, 12], Gen.Int[-20_000, 20_000], Gen.Int[1, 30])
            .Sample(
                (logs, offset, days) =>
                {
                    var cars = logs.Select((c, i) => c with { Id = Car(i).Id, Number = Car(i).Number }).ToList();
                    var (from, to) = (Monday.AddSeconds(offset * 31L), Monday.AddSeconds(offset * 31L).AddDays(days));
                    var law = LittlesLaw.Of(cars, from, to);
                    Assert.True(law.TiesOut);
                    Assert.Equal(law.L - law.LambdaW, law.AtTheEnds, 12);
                    Assert.Equal(law.CarMinutes, cars.Sum(c => CarRibbon.Of(c, from, to).Sum(p => p.Minutes)));
                    foreach (var car in cars)
                    {
                        var ribbon = CarRibbon.Of(car, from, to);
                        Assert.All(ribbon.Zip(ribbon.Skip(1)), p => Assert.Equal(p.First.Until, p.Second.From));
                        Assert.True(
                            ribbon
                                .Select(p => p.Phase)
                                .Zip(ribbon.Skip(1).Select(p => p.Phase))
                                .All(p => p.First <= p.Second)
                        );
                    }

                    var week = ShopWeek.Starting(new DateOnly(2026, 6, 1), Shop);
                    var report = FlowReport.Build(week, Later, Shop, Facts([.. cars]));
                    Assert.All(report.TieOuts, t => Assert.True(t.Holds, t.Sentence));
                    Assert.Equal(
                        report.Law.CarMinutes / 60m,
                        (report[Touch].Value ?? 0) + (report[Waiting].Value ?? 0),
                        6
                    );
                }
            );

    [Fact]
    public void A_cars_time_is_cut_by_phase_worked_waiting_and_cause()
    {
        var car = Car(1) with
        {
            InAt = Day(1),
            FinishedAt = Day(1).AddHours(10),
            Steps =
            [
                Step("10", Phase.Intake, Day(1).AddHours(2), Span(Day(1), 1), Span(Day(1).AddMinutes(30), 1)),
                Step("20", Phase.TrimOut, Day(1).AddHours(10), Span(Day(1).AddHours(9), 1)),
            ],
            Waits =
            [
                new("a customer's part, after its day", 3, Day(1).AddHours(3), Day(1).AddHours(6)),
                new("on hold: A part is missing", 0, Day(1).AddHours(4), Day(1).AddHours(5)),
            ],
        };
        Assert.Equal(
            [
                "Intake worked 90",
                "Intake nobody on it (nights, free days, queue) 30",
                "TrimOut nobody on it (nights, free days, queue) 60",
                "TrimOut a customer's part, after its day 60",
                "TrimOut on hold: A part is missing 60",
                "TrimOut a customer's part, after its day 60",
                "TrimOut nobody on it (nights, free days, queue) 180",
                "TrimOut worked 60",
            ],
            CarRibbon.Of(car, Day(0), Day(7)).Select(p => $"{p.Phase} {p.WaitingFor ?? "worked"} {p.Minutes}")
        );
        var report = Build(car);
        Assert.Equal(2.5m, report[Touch].Value); // two people at once count once …
        Assert.Equal(3m, report[HoursByJob].Value); // … and twice as hours
        Assert.Equal(7.5m, report[Waiting].Value);
        Assert.Equal("nobody on it (nights, free days, queue)", report[Waiting].Rows[0].Label);
        Assert.Equal(10m / 24, report[CycleMedian].Value!.Value, 5);
        Assert.Equal(report[CycleMedian].Value!.Value, report[PhaseTimes].Rows.Sum(r => r.Amount!.Value), 5);
    }

    [Fact]
    public void Cars_are_counted_where_they_came_were_finished_and_left_and_promises_by_the_shops_days()
    {
        var early = Car(1) with
        {
            InAt = Day(-5),
            FinishedAt = At("2026-06-03T21:30:00Z"), // 23:30 in Berlin: still the third
            LeftAt = Day(4),
            PromisedFirst = new(2026, 6, 2),
            PromisedLast = new(2026, 6, 3),
        };
        var late = Car(2) with
        {
            InAt = Day(1),
            FinishedAt = At("2026-06-03T22:30:00Z"),
            PromisedFirst = new(2026, 6, 3),
            PromisedLast = new(2026, 6, 3),
        };
        var open = Car(3) with { InAt = Day(2) };
        var notCome = Car(4);
        var cancelled = Car(5) with { InAt = Day(-1), LeftAt = Day(2), IsCancelled = true };
        var report = Build([4, 10, 20], early, late, open, notCome, cancelled);
        Assert.Equal(["J-2 Sample car", "J-3 Sample car"], Labels(report[TakenIn]));
        Assert.Equal(["J-1 Sample car", "J-2 Sample car"], Labels(report[Finished]));
        Assert.Equal(["J-1 Sample car"], Labels(report[HandedOver]));
        Assert.Equal(["J-3 Sample car"], Labels(report[InHandByPhase]));
        Assert.Equal(0m, report[OnTimeFirst].Value);
        Assert.Equal(50m, report[OnTimeLast].Value);
        Assert.Equal([0m, 1m], report[OnTimeLast].Rows.Select(r => r.Amount!.Value));
        var age = Assert.Single(report[Ageing].Rows);
        Assert.Equal(
            (report.Cars.Single(c => c.Car.Number == "J-3").Ribbon.Sum(p => p.Minutes) / 1440m, 33.333333m),
            (age.Amount, age.Other)
        );
        Assert.Equal(0m, report[Ageing].Value);
        Assert.Null(Build(open)[Ageing].Value); // no past cars: nothing is claimed
        Assert.Null(Build(open)[CycleP85].Value);
    }

    [Fact]
    public void A_week_of_the_flow_has_the_numbers_of_the_figures_of_that_week_and_no_week_lies_ahead() =>
        CarGen
            .Array[0, 12]
            .Sample(logs =>
            {
                var cars = logs.Select((c, i) => c with { Id = Car(i).Id, Number = Car(i).Number }).ToArray();
                foreach (var now in new[] { Later, Monday.AddDays(3).AddHours(5) })
                {
                    var report = FlowReport.Build(
                        ShopWeek.Starting(new DateOnly(2026, 6, 1), Shop),
                        now,
                        Shop,
                        Facts(cars)
                    );
                    var flow = FlowWeek.Of([.. cars.Select(c => c.Stay)], new DateOnly(2026, 6, 7), now, Shop);
                    Assert.Equal(FlowWeek.Count, flow.Count);
                    Assert.Equal(
                        new FlowWeek(
                            new DateOnly(2026, 6, 1),
                            (int)report[TakenIn].Value!,
                            (int)report[Finished].Value!,
                            (int)report[InHandByPhase].Value!
                        ),
                        flow[^1]
                    );
                    var ahead = FlowWeek.Of([.. cars.Select(c => c.Stay)], new DateOnly(2026, 6, 14), now, Shop);
                    Assert.Equal(now == Later ? FlowWeek.Count : FlowWeek.Count - 1, ahead.Count);
                }
            });

    [Fact]
    public void Money_is_the_ledgers_and_margin_says_what_is_left_of_sales()
    {
        var car = Car(1) with
        {
            InAt = Day(-5),
            FinishedAt = Day(2),
            HoursEstimated = 20,
            HoursBilled = 22,
            CostMinor = 30_000,
            Rates = Rates with
            {
                MinorPerHour = new Dictionary<string, long> { ["welder"] = 4_600, ["fitter"] = 3_900 },
            },
            Steps =
            [
                Step("10", Phase.SeamPrep, Day(1), Span(Day(0), 2)) with
                {
                    Skill = "welder",
                    MinutesBefore = 31,
                },
                // Its second hour lies after the range: not in this margin.
                Step("20", Phase.PlateFit, null, Span(Day(7).AddHours(-3), 2)) with
                {
                    Skill = "fitter",
                },
                Step("30", Phase.SignOff, Day(2), Span(Day(1).AddMinutes(7), 1)) with
                {
                    Skill = "inspector",
                },
            ],
        };
        LedgerFact Entry(
            int job,
            int day,
            long money,
            long owed,
            long sales = 0,
            bool paper = false,
            bool byMoney = false
        ) =>
            new(Car(job).Id, Car(job).Title, new DateOnly(2026, 6, 1).AddDays(day), money, owed, sales, paper, byMoney);
        var facts = Facts(car) with
        {
            Ledger =
            [
                Entry(1, -10, 0, 119_000),
                Entry(1, -9, 50_000, -50_000, byMoney: true),
                Entry(1, 2, 0, 0, 100_000, paper: true),
                Entry(1, 3, 60_000, -60_000, byMoney: true),
                Entry(2, 1, 20_000, -20_000, byMoney: true),
                Entry(2, 2, -5_000, 5_000, byMoney: true),
                Entry(3, 40, 99_000, -99_000, byMoney: true),
            ],
            Attendance = [new("Ada", Day(1).AddHours(6), Day(1).AddHours(14))],
            Quotes =
            [
                new("Q-1", "accepted", 119_000, Day(-20), Day(1), null, null, null),
                new("Q-2", "declined", 80_000, Day(1), null, Day(3), null, "too dear"),
                new("Q-3", "expired", 70_000, Day(-30), null, null, new DateOnly(2026, 6, 4), null),
            ],
        };
        var report = Build(facts);
        Assert.Equal(75_000m, report[CashIn].Value);
        Assert.Equal(15_000m, report[DepositsHeld].Value);
        Assert.Equal(9_000m, report[BalancesOpen].Value);
        // 151 min at 46.00 and 60 min at 39.00 an hour: 11,576.67 and 3,900, rounded once.
        var margin = Assert.Single(report[Margin].Rows);
        Assert.Equal((54_523m, 30_000m, 15_477m), (margin.Amount, margin.Other, margin.Third));
        Assert.Equal("labour at no cost: no rate for inspector", margin.Detail);
        Assert.Equal("Labour at no cost: no rate for inspector.", report[Margin].Remark);
        Assert.Equal(54_523m, report[Margin].Value);
        var kit = Assert.Single(report[MarginByKit].Rows);
        Assert.Equal((54_523m, 30_000m, 15_477m), (kit.Amount, kit.Other, kit.Third));
        Assert.True(report.TieOuts.Single(t => t.Code == "margin").Holds);
        Assert.Equal(22m, report[HoursBilled].Value);
        Assert.Equal(0m, report[Utilisation].Value);
        Assert.Equal((1m, 1m), (report[QuotesSent].Value, report[QuotesWon].Value));
        Assert.Equal(["too dear", "No answer by its last day"], report[QuotesLost].Rows.Select(r => r.Detail));
        Assert.True(report.TieOuts.Single(t => t.Code == "money").Holds);
        var wrong = facts with { Ledger = [.. facts.Ledger, Entry(2, 3, 1, 0)] };
        Assert.False(Build(wrong).TieOuts.Single(t => t.Code == "money").Holds);
    }

    [Fact]
    public void Each_figure_is_there_once_in_the_order_of_its_definitions_and_each_says_what_it_means()
    {
        Assert.Equal(All.Select(d => d.Code), Build().Figures.Select(f => f.Definition.Code));
        Assert.Equal(All.Count, All.Select(d => d.Code).Distinct().Count());
        Assert.All(All, d => Assert.EndsWith(".", d.Sentence, StringComparison.Ordinal));
        Assert.All(Build().Figures, f => Assert.Empty(f.Rows));
    }

    [Fact]
    public void A_range_is_refused_at_the_day_that_is_wrong()
    {
        var first = new DateOnly(2026, 6, 1);
        Assert.Contains(
            "before the first",
            ShopWeek.Range(first, first.AddDays(-1), Shop).Failure!.Sentence,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "367",
            ShopWeek.Range(first, first.AddDays(366), Shop).Failure!.Sentence,
            StringComparison.Ordinal
        );
        var year = ShopWeek.Range(first, first.AddDays(365), Shop).Value;
        Assert.Equal((first.AddDays(365), Shop.StartOf(first.AddDays(366))), (year.LastDay, year.To));
    }

    private static readonly Gen<CarLog> CarGen = Gen.Select(
            Gen.Int[-40_000, 40_000],
            Gen.Int[0, 60_000].Nullable(),
            Gen.Int[0, 60_000].Nullable(),
            Gen.Select(Gen.Int[0, 50_000], Gen.Int[0, 900], Gen.Int[0, 3], Gen.Int[0, 4]).Array[0, 8],
            Gen.Select(Gen.Int[0, 50_000], Gen.Int[0, 9_000], Gen.Int[0, 3]).Array[0, 5]
        )
        .Select(
            (start, finished, left, spells, waits) =>
            {
                // Odd seconds on purpose: minutes must tie out although instants do not fall on them.
                var came = Monday.AddSeconds(start * 61L);
                return Car(0) with
                {
                    InAt = came,
                    FinishedAt = finished is { } f ? came.AddSeconds(f * 59L) : null,
                    LeftAt = left is { } l ? came.AddSeconds(l * 67L) : null,
                    Steps =
                    [
                        .. spells
                            .GroupBy(s => s.Item4)
                            .OrderBy(g => g.Key)
                            .Select(g =>
                                Step(
                                    $"{g.Key}",
                                    (Phase)g.Key,
                                    g.Key % 2 == 0 ? came.AddMinutes(g.Max(s => s.Item1 + s.Item2)) : null,
                                    [
                                        .. g.Select(s => new PersonSpan(
                                            $"P{s.Item3}",
                                            came.AddSeconds(s.Item1 * 60L + 7),
                                            came.AddSeconds((s.Item1 + s.Item2) * 60L + 11)
                                        )),
                                    ]
                                )
                            ),
                    ],
                    Waits =
                    [
                        .. waits.Select(w => new CarWait(
                            $"cause {w.Item3}",
                            w.Item3,
                            came.AddMinutes(w.Item1),
                            w.Item2 % 3 == 0 ? null : came.AddMinutes(w.Item1 + w.Item2)
                        )),
                    ],
                };
            }
        );

    private static FlowReport Build(params CarLog[] cars) => Build(Facts(cars));

    private static FlowReport Build(double[] past, params CarLog[] cars) => Build(Facts(cars) with { PastDays = past });

    private static FlowReport Build(FlowFacts facts) =>
        FlowReport.Build(ShopWeek.Starting(new DateOnly(2026, 6, 1), Shop), Later, Shop, facts);

    private static FlowFacts Facts(params CarLog[] cars) => new(cars, [], [], [], []);

    private static IEnumerable<string> Labels(Figure figure) => figure.Rows.Select(r => r.Label);

    private static DateTimeOffset Day(int day) => Monday.AddDays(day);

    private static CarStep Step(string code, Phase phase, DateTimeOffset? over, params PersonSpan[] spells) =>
        new(code, phase, false, over, spells);

    private static PersonSpan Span(DateTimeOffset from, int hours) =>
        new($"P{from.Minute}", from, from.AddHours(hours));

    private static CarLog Car(int number) =>
        new(
            JobId.From(new Guid($"01950000-0000-7000-8000-0000000000{number:00}")),
            $"J-{number}",
            "Sample car",
            "six-point",
            null,
            null,
            null,
            false,
            null,
            null,
            0,
            null,
            0,
            [],
            []
        )
        {
            Rates = Rates,
        };

    private static readonly CostRates Rates = new(
        "Price book 1 of 2026-01-01",
        Currency.Of("EUR"),
        new Dictionary<string, long>()
    );

    private static readonly Shop Shop = ShopFloor
        .Domain.Common.Shop.Create(
            ShopId.From(new Guid("01950000-0000-7000-8000-0000000000ff")),
            new ShopFloor.Domain.Common.Shop.Details(
                "Sample shop",
                null,
                null,
                null,
                null,
                null,
                null,
                "Europe/Berlin",
                "mm",
                null,
                false
            ),
            "EUR"
        )
        .Value;

    private static DateTimeOffset At(string text) =>
        DateTimeOffset.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
