namespace ShopFloor.Domain.Forecast;

/// <summary>Draws what a car is like in a trial, from what is done of it and from what has begun.</summary>
internal sealed class DrawnCar
{
    private const int Steps = 32;
    private static readonly double[] Middles =
    [
        .. Enumerable.Range(0, Steps).Select(i => Normal.Quantile((i + 0.5) / Steps)),
    ];
    private readonly (double Value, double Variance)? done;
    private readonly DrawnTask[] begun;
    private readonly double[] logs = new double[Steps];

    /// <param name="begun">Its operations on which time is logged.</param>
    public DrawnCar(ForecastCar car, ShopSpread shop, IEnumerable<DrawnTask> begun)
    {
        done = new WorkedCar(car.Job, car.Done).Factor(shop.SpreadOf);
        this.begun = [.. begun];
    }

    /// <summary>Logarithm of its factor.</summary>
    /// <remarks>
    /// The shop's normal belief, updated by the operations that are over (product of two normals), and by what has begun: of two cars that fit otherwise,
    /// the slower one more likely has an operation still open after so many hours. The latter has no closed form: the normal is cut into 32 parts of the same
    /// weight, each then weighted by the chance that its open operations are open.
    /// </remarks>
    public double Factor((double Mean, double Spread) shop, Dice dice)
    {
        var (mean, spread) = shop;
        if (done is { } own)
        {
            var weight = spread * spread / ((spread * spread) + own.Variance);
            mean += weight * (own.Value - mean);
            spread *= Math.Sqrt(1 - weight);
        }

        if (begun.Length == 0)
        {
            return mean + (spread * dice.Normal());
        }

        var best = double.NegativeInfinity;
        for (var i = 0; i < Steps; i++)
        {
            logs[i] = 0;
            foreach (var task in begun)
            {
                logs[i] += task.Whole(mean + (spread * Middles[i])).LogChanceOver(task.LoggedHours);
            }

            best = Math.Max(best, logs[i]);
        }

        var total = 0.0;
        for (var i = 0; i < Steps; i++)
        {
            logs[i] = Math.Exp(logs[i] - best);
            total += logs[i];
        }

        var share = dice.Share() * total;
        var at = 0;
        for (; at < Steps - 1 && share >= logs[at]; at++)
        {
            share -= logs[at];
        }

        return mean + (spread * Normal.Quantile((at + dice.Share()) / Steps));
    }
}

/// <summary>An operation as trials draw it.</summary>
internal sealed record DrawnTask(double EstimatedHours, double LoggedHours, double Spread, int Planned)
{
    private const double SlotsAnHour = 60.0 / Planning.WorkAxis.SlotMinutes;

    public LogNormal Whole(double factor) => LogNormal.OfMean(EstimatedHours * Math.Exp(factor), Spread);

    /// <summary>Quarter hours that are left, to the nearest, at least one.</summary>
    public int Left(double factor, double most, Dice dice)
    {
        if (EstimatedHours <= 0)
        {
            return Planned;
        }

        var hours = Whole(factor).QuantileOver(LoggedHours, dice.Share()) - LoggedHours;
        return (int)Math.Clamp(Math.Round(hours * SlotsAnHour), 1, most);
    }
}
