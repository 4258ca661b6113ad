using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Learning;

/// <summary>What is learned about: a labour standard, or the factors of an answer.</summary>
/// <param name="Standard">Null where it is an answer.</param>
/// <param name="Answer">Null where it is a standard.</param>
public sealed record LearnedThing(string? Standard, GivenAnswer? Answer)
{
    internal double Doubt => Standard is null ? LearningRules.AnswerDoubt : LearningRules.StandardDoubt;
}

/// <summary>One operation that says something of a standard or an answer.</summary>
/// <param name="Share">Part of its estimated minutes that is of the standard, or has the answer's factor.</param>
/// <param name="Weight">1 where it counts in full, less where it lies so far out that its pull is bounded.</param>
public sealed record EvidenceRow(WorkEvidence Evidence, double Share, double Weight);

/// <summary>What the logged hours say of a standard or an answer.</summary>
/// <param name="LogRatio">Mean of the belief about the logarithm of true ÷ stated minutes.</param>
/// <param name="LogDeviation">Its deviation.</param>
/// <param name="EffectiveCars">As many cars with one operation each would say as much: operations of one car are no independent witnesses.</param>
public sealed record LearnedEffect(
    LearnedThing Thing,
    double LogRatio,
    double LogDeviation,
    double EffectiveCars,
    IReadOnlyList<EvidenceRow> Rows
)
{
    /// <summary>True ÷ stated minutes, as believed.</summary>
    public double Ratio => Math.Exp(LogRatio);

    /// <summary>Lower end of the 95 % interval of the ratio.</summary>
    public double Low => Math.Exp(LogRatio - (Normal.Z95 * LogDeviation));

    public double High => Math.Exp(LogRatio + (Normal.Z95 * LogDeviation));

    public int Operations => Rows.Count;

    public int Cars => Rows.Select(r => r.Evidence.Job).Distinct().Count();

    /// <summary>How sure it is that the change goes the way it is believed to go, from 0.5 to 1.</summary>
    public double SureOfDirection => Normal.Under(Math.Abs(LogRatio) / LogDeviation);
}

/// <summary>Learns from finished operations how far labour standards and the factors of answers are off.</summary>
/// <remarks>
/// Model: ln(logged ÷ estimated) = Σ share × effect of a standard + Σ share × effect of an answer + car + error. Shares are parts of the estimated minutes: an operation with one
/// standard speaks of that one alone, one with several speaks of each in proportion, which is exact for small effects and an approximation otherwise; small parts
/// (<see cref="LearningRules.LeastShare"/>) are left out. Estimates are means, and the mean of a skew length of time lies above its median: half the variance of car and error
/// is added to the logarithm, so that "no change" means hours that are right on average.
/// <para>Effects have the prior N(0, doubt²), cars N(0, σc²), errors N(0, σ²). Given σ and σc the belief about the effects is normal in closed form:
/// precision A = D⁻² + Σ XᵀV⁻¹X over the cars, mean A⁻¹ΣXᵀV⁻¹y, with V = σ²W⁻¹ + σc²11ᵀ (generalised ridge regression; a random effect of the car, so that its operations do
/// not count as independent). W are Huber's weights min(1, 1.345σ ÷ |residual|). σ, σc and W are found by repetition: the variances by expectation and
/// maximisation (N. M. Laird, J. H. Ware, Random-effects models for longitudinal data, Biometrics 38, 1982, from memory), squares bounded as the weights are and divided by what
/// a normal error leaves of them (Huber's second proposal).</para>
/// </remarks>
public sealed class LabourModel
{
    private const int MostRounds = 60;
    private const double Settled = 1e-6;

    /// <summary>Mean of min(z², 1.345²) of a standard normal z.</summary>
    private static readonly double BoundedSquare = ShareOfSquares(LearningRules.HuberBound);

    private readonly List<LearnedThing> things;
    private readonly List<Row> rows;
    private readonly List<List<Row>> cars;
    private readonly double[] mean;
    private double[,] covariance;

    private LabourModel(IEnumerable<WorkEvidence> evidence)
    {
        rows = [.. evidence.Where(e => e.IsTimed).Select(e => new Row(e, Shares(e)))];
        things =
        [
            .. rows.SelectMany(r => r.Shares.Keys)
                .Distinct()
                .OrderBy(t => t.Standard is null)
                .ThenBy(t => t.Standard, StringComparer.Ordinal)
                .ThenBy(t => t.Answer),
        ];
        var places = things.Index().ToDictionary(t => t.Item, t => t.Index);
        foreach (var row in rows)
        {
            row.Terms = [.. row.Shares.Select(s => (places[s.Key], s.Value))];
        }

        cars = [.. rows.GroupBy(r => r.Evidence.Job).Select(g => g.ToList())];
        mean = new double[things.Count];
        covariance = new double[things.Count, things.Count];
        (ErrorSpread, CarSpread) = (LearningRules.OperationSpread, LearningRules.CarSpread);
    }

    /// <summary>Deviation of the logarithm of an operation's hours beyond everything else, as found.</summary>
    public double ErrorSpread { get; private set; }

    /// <summary>Deviation of what all operations of a car have in common, as found.</summary>
    public double CarSpread { get; private set; }

    /// <summary>One for each standard and each answer that the evidence speaks of, standards first, by code.</summary>
    public IReadOnlyList<LearnedEffect> Effects { get; private set; } = [];

    public static LabourModel Learn(IEnumerable<WorkEvidence> evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var model = new LabourModel(evidence);
        for (var round = 0; round < MostRounds; round++)
        {
            var before = (model.ErrorSpread, model.CarSpread, Mean: (double[])model.mean.Clone());
            model.Solve();
            model.Weigh();
            if (
                Math.Abs(model.ErrorSpread - before.ErrorSpread) < Settled
                && Math.Abs(model.CarSpread - before.CarSpread) < Settled
                && model.mean.Zip(before.Mean).All(m => Math.Abs(m.First - m.Second) < Settled)
            )
            {
                break;
            }
        }

        model.Solve();
        model.Effects = [.. model.things.Select(model.Effect)];
        return model;
    }

    /// <summary>Parts of an operation's minutes by what is learned about.</summary>
    private static Dictionary<LearnedThing, double> Shares(WorkEvidence evidence)
    {
        var total = evidence.EstimatedMinutes;
        var kept = evidence
            .Parts.GroupBy(p => p.StandardCode, StringComparer.Ordinal)
            .Where(g => g.Sum(p => p.EstimatedMinutes) >= LearningRules.LeastShare * total)
            .SelectMany(g => g)
            .Where(p => p.EstimatedMinutes > 0)
            .ToList();
        total = kept.Sum(p => p.EstimatedMinutes);
        var shares = new Dictionary<LearnedThing, double>();
        foreach (var part in kept)
        {
            var share = part.EstimatedMinutes / total;
            Add(new LearnedThing(part.StandardCode, null), share);
            foreach (var answer in part.Answers.Distinct())
            {
                Add(new LearnedThing(null, answer), share);
            }
        }

        return shares;

        void Add(LearnedThing thing, double share) => shares[thing] = shares.GetValueOrDefault(thing) + share;
    }

    /// <summary>Belief about the effects, given the variances and weights.</summary>
    private void Solve()
    {
        var n = things.Count;
        var precision = new double[n, n];
        var right = new double[n];
        for (var i = 0; i < n; i++)
        {
            precision[i, i] = 1 / (things[i].Doubt * things[i].Doubt);
        }

        var square = ErrorSpread * ErrorSpread;
        var raised = (square + (CarSpread * CarSpread)) / 2;
        foreach (var car in cars)
        {
            // V⁻¹ = W/σ² − W11ᵀW/σ⁴ ÷ (1/σc² + Σw/σ²), by Sherman and Morrison.
            var sums = new double[n];
            var (weights, values) = (0.0, 0.0);
            foreach (var row in car)
            {
                var w = row.Weight / square;
                var y = row.Log + raised;
                weights += w;
                values += w * y;
                foreach (var (i, x) in row.Terms)
                {
                    sums[i] += w * x;
                    right[i] += w * x * y;
                    foreach (var (j, other) in row.Terms)
                    {
                        precision[i, j] += w * x * other;
                    }
                }
            }

            var shared = (1 / (CarSpread * CarSpread)) + weights;
            for (var i = 0; i < n; i++)
            {
                if (sums[i] == 0)
                {
                    continue;
                }

                right[i] -= sums[i] * values / shared;
                for (var j = 0; j < n; j++)
                {
                    precision[i, j] -= sums[i] * sums[j] / shared;
                }
            }
        }

        covariance = SquareSystem.Inverse(precision);
        for (var i = 0; i < n; i++)
        {
            mean[i] = 0;
            for (var j = 0; j < n; j++)
            {
                mean[i] += covariance[i, j] * right[j];
            }
        }
    }

    /// <summary>Variances and weights, given the belief about the effects.</summary>
    private void Weigh()
    {
        var square = ErrorSpread * ErrorSpread;
        var raised = (square + (CarSpread * CarSpread)) / 2;
        var bound = LearningRules.HuberBound * ErrorSpread;
        var errors = LearningRules.SpreadWeight * LearningRules.OperationSpread * LearningRules.OperationSpread;
        var between = LearningRules.SpreadWeight * LearningRules.CarSpread * LearningRules.CarSpread;
        foreach (var car in cars)
        {
            var slope = new double[things.Count];
            var (weights, values) = (0.0, 0.0);
            foreach (var row in car)
            {
                var w = row.Weight / square;
                row.Residual = row.Log + raised - row.Terms.Sum(t => t.Share * mean[t.Place]);
                weights += w;
                values += w * row.Residual;
                foreach (var (i, x) in row.Terms)
                {
                    slope[i] += w * x;
                }
            }

            var shared = (1 / (CarSpread * CarSpread)) + weights;
            var own = values / shared;
            for (var i = 0; i < slope.Length; i++)
            {
                slope[i] /= shared;
            }

            between += (own * own) + (1 / shared) + Spread(slope);
            foreach (var row in car)
            {
                var residual = row.Residual - own;
                var away = (double[])slope.Clone();
                foreach (var (i, x) in row.Terms)
                {
                    away[i] -= x;
                }

                var pulled = Math.Min(Math.Abs(residual), bound);
                errors += (pulled * pulled / BoundedSquare) + (row.Weight * ((1 / shared) + Spread(away)));
                row.Weight = Math.Abs(residual) <= bound ? 1 : bound / Math.Abs(residual);
            }
        }

        ErrorSpread = Math.Sqrt(errors / (LearningRules.SpreadWeight + rows.Count));
        CarSpread = Math.Sqrt(between / (LearningRules.SpreadWeight + cars.Count));
    }

    /// <summary>Variance of a weighted sum of the effects; of many effects a car has few.</summary>
    private double Spread(double[] weights)
    {
        var used = Enumerable.Range(0, weights.Length).Where(i => weights[i] != 0).ToArray();
        var sum = 0.0;
        foreach (var i in used)
        {
            foreach (var j in used)
            {
                sum += weights[i] * weights[j] * covariance[i, j];
            }
        }

        return sum;
    }

    private LearnedEffect Effect(LearnedThing thing, int place)
    {
        var variance = covariance[place, place];
        var told = Math.Max(0, (1 / variance) - (1 / (thing.Doubt * thing.Doubt)));
        return new LearnedEffect(
            thing,
            mean[place],
            Math.Sqrt(variance),
            told * ((ErrorSpread * ErrorSpread) + (CarSpread * CarSpread)),
            [
                .. rows.Where(r => r.Shares.ContainsKey(thing))
                    .Select(r => new EvidenceRow(r.Evidence, r.Shares[thing], r.Weight)),
            ]
        );
    }

    /// <summary>E[min(z², c²)] = (2Φ(c) − 1) − 2cφ(c) + 2c²(1 − Φ(c)).</summary>
    private static double ShareOfSquares(double c) =>
        1
        - (2 * Normal.Above(c))
        - (2 * c * Math.Exp(-c * c / 2) / Math.Sqrt(2 * Math.PI))
        + (2 * c * c * Normal.Above(c));

    private sealed class Row(WorkEvidence evidence, Dictionary<LearnedThing, double> shares)
    {
        public WorkEvidence Evidence { get; } = evidence;
        public Dictionary<LearnedThing, double> Shares { get; } = shares;
        public double Log { get; } = Math.Log(evidence.LoggedMinutes / evidence.EstimatedMinutes);
        public IReadOnlyList<(int Place, double Share)> Terms { get; set; } = [];
        public double Weight { get; set; } = 1;
        public double Residual { get; set; }
    }
}
