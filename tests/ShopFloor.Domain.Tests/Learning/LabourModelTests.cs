using MathNet.Numerics.LinearAlgebra;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Learning;

namespace ShopFloor.Domain.Tests.Learning;

public sealed class LabourModelTests(ITestOutputHelper output)
{
    private static readonly Dictionary<string, double> Off = new()
    {
        ["a"] = 1.3,
        ["b"] = 1,
        ["c"] = 0.85,
        ["rust"] = 1.15,
    };

    [Fact]
    public void The_belief_is_the_generalised_ridge_regression_that_MathNet_solves()
    {
        var evidence = new LoggedShop(4, Off).Cars(9);
        var model = LabourModel.Learn(evidence);

        var rows = model
            .Effects.SelectMany(e => e.Rows)
            .GroupBy(r => r.Evidence)
            .Select(g => (Evidence: g.Key, g.First().Weight))
            .ToList();
        Assert.Equal(evidence.Count, rows.Count);
        var x = Matrix<double>.Build.Dense(
            rows.Count,
            model.Effects.Count,
            (r, c) => model.Effects[c].Rows.FirstOrDefault(e => e.Evidence == rows[r].Evidence)?.Share ?? 0
        );
        var (error, car) = (model.ErrorSpread, model.CarSpread);
        var v = Matrix<double>.Build.Dense(
            rows.Count,
            rows.Count,
            (r, c) =>
                (r == c ? error * error / rows[r].Weight : 0)
                + (rows[r].Evidence.Job == rows[c].Evidence.Job ? car * car : 0)
        );
        var y = Vector<double>.Build.Dense(
            rows.Count,
            r =>
                Math.Log(rows[r].Evidence.LoggedMinutes / rows[r].Evidence.EstimatedMinutes)
                + (((error * error) + (car * car)) / 2)
        );
        var prior = Matrix<double>.Build.Diagonal(
            model.Effects.Count,
            model.Effects.Count,
            i => 1 / Math.Pow(model.Effects[i].Thing.Standard is null ? 0.15 : 0.25, 2)
        );
        var precision = prior + (x.Transpose() * v.Inverse() * x);
        var mean = precision.Cholesky().Solve(x.Transpose() * v.Inverse() * y);
        var covariance = precision.Inverse();
        foreach (var (effect, i) in model.Effects.Select((e, i) => (e, i)))
        {
            Assert.Equal(mean[i], effect.LogRatio, 1e-6);
            Assert.Equal(Math.Sqrt(covariance[i, i]), effect.LogDeviation, 1e-9);
        }
    }

    [Fact]
    public void In_a_thousand_shops_the_stated_95_percent_interval_holds_the_truth()
    {
        var (held, all) = (0, 0);
        for (var seed = 0; seed < 1000; seed++)
        {
            var dice = new Dice(seed);
            double Drawn(double doubt) => Math.Exp(doubt * dice.Normal());
            var off = new Dictionary<string, double>
            {
                ["a"] = Drawn(LearningRules.StandardDoubt),
                ["b"] = Drawn(LearningRules.StandardDoubt),
                ["c"] = Drawn(LearningRules.StandardDoubt),
                ["rust"] = Drawn(LearningRules.AnswerDoubt),
            };
            var shop = new LoggedShop(5000 + seed, off)
            {
                CarSpread = 0.1 + (0.25 * dice.Share()),
                OperationSpread = 0.15 + (0.35 * dice.Share()),
            };
            var effects = LabourModel.Learn(shop.Cars(4 + (seed % 25))).Effects;
            held += effects.Count(e => IsIn(off[e.Thing.Standard ?? "rust"], e));
            all += effects.Count;
        }

        output.WriteLine($"{held} of {all}: {100.0 * held / all:0.0} %");
        Assert.Equal(4000, all);
        Assert.InRange(held / (double)all, 0.93, 0.985);
    }

    [Fact]
    public void With_much_logged_the_interval_holds_a_standard_that_is_right_and_one_that_is_far_off()
    {
        var (right, far) = (0, 0);
        for (var seed = 0; seed < 400; seed++)
        {
            var effects = LabourModel
                .Learn(
                    new LoggedShop(90_000 + seed, new Dictionary<string, double> { ["a"] = 1, ["b"] = 1.5 }).Cars(60)
                )
                .Effects;
            right += IsIn(1, effects[0]) ? 1 : 0;
            far += IsIn(1.5, effects[1]) ? 1 : 0;
        }

        output.WriteLine($"right {right / 4.0:0.0} %, far off {far / 4.0:0.0} %");
        Assert.True(right >= 0.93 * 400, $"{right} of 400");
        Assert.True(far >= 0.93 * 400, $"{far} of 400");
    }

    [Fact]
    public void With_few_operations_the_answer_stays_near_no_change()
    {
        var effect = Assert.Single(LabourModel.Learn([Worked(1, "a", 60, 120)]).Effects);
        // Twice as long, once: less than half of the way, and "no change" well inside the interval.
        Assert.InRange(effect.Ratio, 1.02, 1.5);
        Assert.True(effect.Low < 1 && effect.High > 1.2);
        Assert.InRange(effect.EffectiveCars, 0.9, 1.1);
        Assert.Empty(LabourModel.Learn([]).Effects);
    }

    [Fact]
    public void A_forgotten_clock_of_20_hours_moves_the_answer_by_less_than_four_percent()
    {
        var evidence = new LoggedShop(8, new Dictionary<string, double> { ["a"] = 1.1, ["b"] = 1 }).Cars(15);
        var before = LabourModel.Learn(evidence);
        var at = evidence.Index().First(e => e.Item.Parts is [{ StandardCode: "a" }]).Index;
        var forgotten = evidence[at] with { LoggedMinutes = evidence[at].LoggedMinutes + (20 * 60) };
        var after = LabourModel.Learn([.. evidence.Take(at), forgotten, .. evidence.Skip(at + 1)]);

        foreach (var (one, two) in before.Effects.Zip(after.Effects))
        {
            Assert.InRange(two.Ratio / one.Ratio, 0.96, 1.04);
        }

        Assert.InRange(after.Effects[0].Rows.Single(r => r.Evidence == forgotten).Weight, 0, 0.35);
    }

    [Fact]
    public void A_standard_that_is_off_does_not_spoil_one_that_is_right()
    {
        var effects = LabourModel
            .Learn(
                new LoggedShop(
                    3,
                    new Dictionary<string, double>
                    {
                        ["a"] = 1.4,
                        ["b"] = 1,
                        ["c"] = 1,
                    }
                ).Cars(80)
            )
            .Effects;
        Assert.Equal(1.4, effects[0].Ratio, 0.1);
        Assert.Equal(1, effects[1].Ratio, 0.07);
        Assert.Equal(1, effects[2].Ratio, 0.07);
        // The first two also share an operation.
        Assert.Equal(160, effects[0].Operations);
        Assert.Equal(80, effects[2].Operations);
    }

    [Fact]
    public void Operations_of_one_car_are_no_independent_witnesses()
    {
        var oneCar = Enumerable.Range(0, 12).Select(_ => Worked(1, "a", 60, 90)).ToList();
        var twelve = Enumerable.Range(0, 12).Select(i => Worked(i, "a", 60, 90)).ToList();
        var (one, many) = (LabourModel.Learn(oneCar).Effects[0], LabourModel.Learn(twelve).Effects[0]);
        Assert.True(one.LogDeviation > 1.3 * many.LogDeviation);
        Assert.True(one.EffectiveCars < 0.5 * many.EffectiveCars);
        Assert.Equal((1, 12), (one.Cars, many.Cars));
        Assert.True(Math.Abs(one.LogRatio) < Math.Abs(many.LogRatio));
    }

    [Fact]
    public void Small_parts_and_untimed_operations_are_left_out()
    {
        var evidence = new WorkEvidence(
            Job(1),
            "10",
            70,
            [new EvidencePart("a", 55, []), new EvidencePart("b", 5, [LoggedShop.Rust])]
        );
        var model = LabourModel.Learn([evidence, evidence with { LoggedMinutes = 0 }, evidence with { Parts = [] }]);
        var effect = Assert.Single(model.Effects);
        Assert.Equal("a", effect.Thing.Standard);
        Assert.Equal(1, Assert.Single(effect.Rows).Share);
    }

    private static bool IsIn(double truth, LearnedEffect effect) => truth >= effect.Low && truth <= effect.High;

    private static WorkEvidence Worked(int car, string standard, double estimated, double logged) =>
        new(Job(car), "10", logged, [new EvidencePart(standard, estimated, [])]);

    private static JobId Job(int car) => JobId.From(new Guid(car + 1, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));
}
