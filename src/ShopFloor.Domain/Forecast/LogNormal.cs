namespace ShopFloor.Domain.Forecast;

/// <summary>A length of time whose logarithm is normal: never under 0, and further out above than below.</summary>
/// <param name="LogMean">Mean of the logarithm; its exponential is the median.</param>
/// <param name="LogSpread">Deviation of the logarithm, 0 or more.</param>
public readonly record struct LogNormal(double LogMean, double LogSpread)
{
    /// <summary>The one with a mean and a log-spread.</summary>
    public static LogNormal OfMean(double mean, double logSpread) =>
        new(Math.Log(mean) - (logSpread * logSpread / 2), logSpread);

    /// <summary>Log-spread of the one with a mean and a deviation: √ln(1 + (deviation ÷ mean)²).</summary>
    public static double SpreadOf(double mean, double deviation) =>
        Math.Sqrt(Math.Log(1 + (deviation * deviation / (mean * mean))));

    public double Mean => Math.Exp(LogMean + (LogSpread * LogSpread / 2));

    public double Quantile(double share) => Math.Exp(LogMean + (LogSpread * Normal.Quantile(share)));

    /// <summary>Logarithm of the chance that it is longer than a value.</summary>
    public double LogChanceOver(double value) =>
        value <= 0 ? 0
        : LogSpread == 0 ? (Math.Log(value) < LogMean ? 0 : double.NegativeInfinity)
        : Normal.LogAbove((Math.Log(value) - LogMean) / LogSpread);

    /// <summary>A quantile of those that are longer than a value: work on which so much is logged and which is not done.</summary>
    /// <remarks>P(D ≤ d | D &gt; v) = share, so P(D &gt; d) = (1 − share)·P(D &gt; v).</remarks>
    /// <param name="share">Over 0 and under 1.</param>
    public double QuantileOver(double value, double share)
    {
        if (value <= 0)
        {
            return Quantile(share);
        }

        if (LogSpread == 0)
        {
            return Math.Max(value, Math.Exp(LogMean));
        }

        var log = Math.Log(1 - share) + LogChanceOver(value);
        var z = log >= Math.Log(0.5) ? Normal.Quantile(Math.Max(1e-18, 1 - Math.Exp(log))) : Normal.QuantileAbove(log);
        return Math.Max(value, Math.Exp(LogMean + (LogSpread * z)));
    }
}
