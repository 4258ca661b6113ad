namespace ShopFloor.Domain.Forecast;

/// <summary>What finished cars say of the shop: how far its hours lie from its estimates, how much cars differ, and how much operations spread.</summary>
/// <remarks>
/// The model: an operation takes estimate × factor of the car × factor of the operation. The car's factor is log-normal, N(μ, τ²) in the logarithm; the
/// operation's has mean 1 and log-spread s.
/// <para>s² is the stated one times a multiplier, which is learned from how operations of one car differ among themselves: for the shop (W + Σr²)/(W + Σ(1 − h)) with
/// r a residual from its car's mean in stated spreads, h its leverage and W the prior's weight; for a kind of operation the same, shrunk to the shop's. A residual counts at
/// most as four spreads, so that a forgotten clock does not spoil it.</para>
/// <para>μ and τ: with y the logarithm of a car's logged ÷ estimated hours and v its variance from the operations, y ~ N(μ, τ² + v). Given τ the belief about μ
/// is normal in closed form; τ is tried at 41 values, each weighted by prior × likelihood with μ integrated out. This is the hierarchical normal
/// model of A. Gelman and others, Bayesian Data Analysis, 3rd ed., §5.4, from memory. Few cars leave τ and μ uncertain, and trials draw them anew, so
/// that forecasts of a shop without history are as wide as they should be.</para>
/// </remarks>
public sealed class ShopSpread
{
    /// <summary>Older cars than the last so many are left out: shops change.</summary>
    public const int MostCars = 200;

    private const int GridSteps = 20;
    private const double GridDeviations = 3;
    private const int Rounds = 5;
    private const double Settled = 1e-3;
    private const double MostSpreads = 4;
    private readonly Dictionary<string, double> multipliers;
    private readonly double shopMultiplier;
    private readonly CarFactorBelief[] beliefs;

    private ShopSpread(
        SpreadPrior prior,
        double shopMultiplier,
        Dictionary<string, double> multipliers,
        CarFactorBelief[] beliefs,
        int cars,
        int operations
    )
    {
        Prior = prior;
        this.shopMultiplier = shopMultiplier;
        this.multipliers = multipliers;
        this.beliefs = beliefs;
        (Cars, Operations) = (cars, operations);
    }

    public SpreadPrior Prior { get; }

    /// <summary>Cars it was learned from.</summary>
    public int Cars { get; }

    /// <summary>Timed operations it was learned from.</summary>
    public int Operations { get; }

    /// <summary>Median of logged ÷ estimated hours of the shop's cars: over 1 where it takes longer than it estimates.</summary>
    public double Bias => Math.Exp(beliefs.Sum(b => b.Weight * b.Mean));

    /// <summary>Log-spread of whole cars: the mean of what is believed.</summary>
    public double CarSpread => beliefs.Sum(b => b.Weight * b.Spread);

    /// <summary>Log-spread of an operation, by its kind and its stated spread.</summary>
    public double SpreadOf(string kind, double stated) =>
        TaskSpread.Within(Math.Sqrt(multipliers.GetValueOrDefault(kind, shopMultiplier)) * TaskSpread.Within(stated));

    public double SpreadOf(WorkedOperation operation)
    {
        ArgumentNullException.ThrowIfNull(operation);
        return SpreadOf(operation.Kind, operation.StatedSpread);
    }

    /// <param name="cars">Finished cars, the newest last; at most the last <see cref="MostCars"/> that were timed are used.</param>
    public static ShopSpread Learn(IReadOnlyList<WorkedCar> cars, SpreadPrior prior)
    {
        ArgumentNullException.ThrowIfNull(cars);
        ArgumentNullException.ThrowIfNull(prior);
        var used = cars.Where(c => c.IsTimed).TakeLast(MostCars).ToList();
        var learned = new ShopSpread(prior, 1, [], [], 0, 0);
        for (var round = 0; round < Rounds; round++)
        {
            var before = learned.shopMultiplier;
            learned = Multipliers(used, prior, learned);
            if (round > 0 && Math.Abs(learned.shopMultiplier - before) < Settled * before)
            {
                break;
            }
        }

        var factors = used.Select(c => c.Factor(learned.SpreadOf)!.Value).ToList();
        return new ShopSpread(
            prior,
            learned.shopMultiplier,
            learned.multipliers,
            Beliefs(factors, prior),
            used.Count,
            used.Sum(c => c.Timed.Count())
        );
    }

    /// <summary>Draws what a trial takes the shop's cars to be like.</summary>
    internal (double Mean, double Spread) Draw(Dice dice)
    {
        var share = dice.Share();
        var at = 0;
        for (; at < beliefs.Length - 1 && share >= beliefs[at].Weight; at++)
        {
            share -= beliefs[at].Weight;
        }

        return (beliefs[at].Mean + (beliefs[at].Doubt * dice.Normal()), beliefs[at].Spread);
    }

    private static ShopSpread Multipliers(List<WorkedCar> cars, SpreadPrior prior, ShopSpread now)
    {
        var shop = (Squares: 0.0, Freedom: 0.0);
        var kinds = new Dictionary<string, (double Squares, double Freedom)>(StringComparer.Ordinal);
        foreach (var car in cars)
        {
            foreach (var (kind, squares, freedom) in Residuals(car, now))
            {
                shop = (shop.Squares + squares, shop.Freedom + freedom);
                var known = kinds.GetValueOrDefault(kind);
                kinds[kind] = (known.Squares + squares, known.Freedom + freedom);
            }
        }

        var multiplier = (prior.Weight + shop.Squares) / (prior.Weight + shop.Freedom);
        return new ShopSpread(
            prior,
            multiplier,
            kinds.ToDictionary(
                k => k.Key,
                k => ((prior.Weight * multiplier) + k.Value.Squares) / (prior.Weight + k.Value.Freedom),
                StringComparer.Ordinal
            ),
            [],
            0,
            0
        );
    }

    private static IEnumerable<(string Kind, double Squares, double Freedom)> Residuals(WorkedCar car, ShopSpread now)
    {
        var rows = car
            .Timed.Select(o =>
            {
                var s = now.SpreadOf(o);
                return (
                    o.Kind,
                    Stated: TaskSpread.Within(o.StatedSpread),
                    Spread: s,
                    Log: Math.Log(o.LoggedHours / o.EstimatedHours) + (s * s / 2),
                    Weight: 1 / (s * s)
                );
            })
            .ToList();
        if (rows.Count < 2)
        {
            yield break;
        }

        var total = rows.Sum(r => r.Weight);
        var mean = rows.Sum(r => r.Weight * r.Log) / total;
        foreach (var row in rows)
        {
            var residual = Math.Clamp(row.Log - mean, -MostSpreads * row.Spread, MostSpreads * row.Spread) / row.Stated;
            yield return (row.Kind, residual * residual, 1 - (row.Weight / total));
        }
    }

    private static CarFactorBelief[] Beliefs(IReadOnlyList<(double Value, double Variance)> cars, SpreadPrior prior)
    {
        var tried = new List<(CarFactorBelief Belief, double Log)>();
        for (var step = -GridSteps; step <= GridSteps; step++)
        {
            var z = GridDeviations * step / GridSteps;
            var spread = prior.CarSpread * Math.Exp(prior.CarSpreadDoubt * z);
            var precision = 1 / (prior.Bias * prior.Bias);
            var (sum, log) = (0.0, -z * z / 2);
            foreach (var (value, variance) in cars)
            {
                var v = (spread * spread) + variance;
                precision += 1 / v;
                sum += value / v;
                log -= (Math.Log(v) + (value * value / v)) / 2;
            }

            log += ((sum * sum / precision) - Math.Log(precision)) / 2;
            tried.Add((new CarFactorBelief(0, spread, sum / precision, Math.Sqrt(1 / precision)), log));
        }

        var best = tried.Max(t => t.Log);
        var total = tried.Sum(t => Math.Exp(t.Log - best));
        return [.. tried.Select(t => t.Belief with { Weight = Math.Exp(t.Log - best) / total })];
    }
}

/// <summary>What is believed of the shop's mean if its cars spread so much, and how much this spread is believed.</summary>
/// <param name="Weight">Of all the spreads together 1.</param>
/// <param name="Spread">Log-spread of whole cars.</param>
/// <param name="Mean">Of the logarithm of cars' factors.</param>
/// <param name="Doubt">Deviation of that mean.</param>
internal readonly record struct CarFactorBelief(double Weight, double Spread, double Mean, double Doubt);
