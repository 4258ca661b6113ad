using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Forecast;

/// <summary>Says when cars will be done: works the shop's plain plan many times over with hours as they may come out.</summary>
/// <remarks>
/// A trial draws what the shop is like, a factor for each car and how long each operation takes, and puts all of it on the board by the plain rule
/// of <see cref="DispatchPlan"/>, with its calendars, people, places, cures and air. An operation that the shop has set to begin at a time begins then or as soon after
/// as it can. What takes longer than it can be done in one go is cut, see <see cref="PieceLimits"/>. A car that finds no end within the days looked at counts as later than the last of them; in that trial it keeps nobody from the others.
/// </remarks>
public static class ShopForecast
{
    private const int ReportEvery = 8;

    /// <param name="progress">Gets the share of trials that are done, from 0 to 1.</param>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    public static ShopForecastResult Run(
        ForecastQuestion question,
        ShopSpread shop,
        ForecastSettings settings,
        IProgress<double>? progress = null,
        CancellationToken cancel = default
    )
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(shop);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentOutOfRangeException.ThrowIfLessThan(settings.Trials, ForecastSettings.LeastTrials, nameof(settings));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(settings.Trials, ForecastSettings.MostTrials, nameof(settings));
        var plain = DispatchPlan.Run(Freed(question.Problem));
        var trials = new Trials(question with { Problem = plain.Problem }, shop);
        var ends = question.Cars.Select(_ => new double[settings.Trials]).ToArray();
        var cut = 0;
        for (var trial = 0; trial < settings.Trials; trial++)
        {
            cancel.ThrowIfCancellationRequested();
            if (trials.Run(Dice.Of(settings.Seed, trial), ends, trial))
            {
                cut++;
            }

            if ((trial + 1) % ReportEvery == 0)
            {
                progress?.Report((trial + 1.0) / settings.Trials);
            }
        }

        progress?.Report(1);
        return new ShopForecastResult(
            settings.Seed,
            settings.Trials,
            [
                .. question.Cars.Select(
                    (c, j) => FinishDays.Of(question.Problem.Axis, c, ends[j], plain.LeftOut.GetValueOrDefault(j))
                ),
            ],
            shop,
            cut
        );
    }

    /// <summary>One of the trials, laid open.</summary>
    /// <param name="trial">From 0; with the same seed it is the one that the forecast draws.</param>
    public static ForecastTrial Trial(ForecastQuestion question, ShopSpread shop, int seed, int trial)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(shop);
        var plain = DispatchPlan.Run(Freed(question.Problem));
        var trials = new Trials(question with { Problem = plain.Problem }, shop);
        var ends = question.Cars.Select(_ => new double[1]).ToArray();
        trials.Run(Dice.Of(seed, trial), ends, 0);
        return new ForecastTrial(
            trials.Laid(),
            [.. Enumerable.Range(0, ends.Length).Where(j => double.IsInfinity(ends[j][0]))]
        );
    }

    /// <summary>Wished beginnings are beginnings at the earliest: in a trial what comes before may take longer.</summary>
    private static PlanProblem Freed(PlanProblem problem) =>
        problem with
        {
            Tasks =
            [
                .. problem.Tasks.Select(t =>
                    t.Fixed is { } at ? t with { Fixed = null, Earliest = Math.Max(at, t.Earliest) } : t
                ),
            ],
        };

    private sealed class Trials
    {
        private readonly PlanProblem problem;
        private readonly ShopSpread shop;
        private readonly DrawnTask[] tasks;
        private readonly DrawnCar[] cars;
        private readonly DispatchGround ground;
        private readonly DispatchBoard board;
        private readonly int[] limits;
        private readonly int[] lengths;
        private readonly double[] factors;

        public Trials(ForecastQuestion question, ShopSpread shop)
        {
            problem = question.Problem;
            this.shop = shop;
            tasks =
            [
                .. question.Tasks.Select(
                    (t, i) =>
                        new DrawnTask(
                            t.EstimatedHours,
                            t.LoggedHours,
                            shop.SpreadOf(t.Kind, t.StatedSpread),
                            problem.Tasks[i].Slots
                        )
                ),
            ];
            ground = new DispatchGround(problem);
            cars =
            [
                .. question.Cars.Select(
                    (c, j) =>
                        new DrawnCar(
                            c,
                            shop,
                            ground
                                .TasksOf[j]
                                .Select(t => tasks[t])
                                .Where(t => t is { LoggedHours: > 0, EstimatedHours: > 0 })
                        )
                ),
            ];
            board = new DispatchBoard(ground);
            limits = PieceLimits.Of(problem);
            lengths = new int[tasks.Length];
            factors = new double[cars.Length];
        }

        /// <returns>Whether an operation was cut.</returns>
        public bool Run(Dice dice, double[][] ends, int trial)
        {
            var drawn = shop.Draw(dice);
            for (var j = 0; j < cars.Length; j++)
            {
                factors[j] = cars[j].Factor(drawn, dice);
            }

            var cut = false;
            for (var t = 0; t < tasks.Length; t++)
            {
                lengths[t] = tasks[t].Left(factors[problem.Tasks[t].Job], problem.Axis.Slots + 1, dice);
                cut |= lengths[t] > limits[t];
            }

            var waiting = new List<int>();
            do
            {
                board.Empty(lengths, limits);
                waiting.ForEach(board.LetWait);
                var leftOut = board.Fill();
                if (board.Broken is { } broken)
                {
                    waiting.Add(broken);
                    continue;
                }

                for (var j = 0; j < cars.Length; j++)
                {
                    ends[j][trial] = leftOut.ContainsKey(j) ? double.PositiveInfinity : End(j);
                }
            } while (board.Broken is not null);

            return cut;
        }

        public IReadOnlyList<PlanEntry> Laid() => board.Pieces;

        private int End(int job)
        {
            var end = 0;
            foreach (var t in ground.TasksOf[job])
            {
                end = Math.Max(end, board.EndOf(t)!.Value);
            }

            return end;
        }
    }
}
