namespace ShopFloor.Domain.Forecast;

/// <summary>From which share to which the true one may well lie, after so many were counted.</summary>
public readonly record struct ShareRange(double Low, double High)
{
    public bool Contains(double share) => share >= Low && share <= High;
}

/// <summary>The score interval of a share.</summary>
/// <remarks>
/// (p + z²/2n ± z·√(p(1 − p)/n + z²/4n²)) / (1 + z²/n). E. B. Wilson, Probable inference, the law of succession, and statistical inference,
/// Journal of the American Statistical Association 22 (1927), from memory.
/// </remarks>
public static class Wilson
{
    /// <param name="hits">How many it was so for.</param>
    /// <param name="of">How many were counted, 1 or more.</param>
    public static ShareRange Interval(int hits, int of, double z = Normal.Z95)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(of, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(hits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(hits, of);
        var n = (double)of;
        var p = hits / n;
        var middle = p + (z * z / (2 * n));
        var half = z * Math.Sqrt((p * (1 - p) / n) + (z * z / (4 * n * n)));
        var scale = 1 + (z * z / n);
        return new ShareRange(Math.Max(0, (middle - half) / scale), Math.Min(1, (middle + half) / scale));
    }
}
