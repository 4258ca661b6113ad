using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Rounding and sharing of whole minor units, exact: 128-bit integers, never floating point.</summary>
public static class Shares
{
    /// <summary>Shares an amount in proportion to weights: the floor of each share, then one unit each to the largest remainders, the earlier first. All 0 when the weights add up to 0.</summary>
    /// <param name="amount">0 or more.</param>
    /// <param name="weights">Each 0 or more and at most 2⁵³ − 1.</param>
    public static long[] Split(long amount, IReadOnlyList<long> weights)
    {
        ArgumentNullException.ThrowIfNull(weights);
        ArgumentOutOfRangeException.ThrowIfNegative(amount);
        Int128 sum = 0;
        foreach (var weight in weights)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(weight);
            sum += weight;
        }

        var shares = new long[weights.Count];
        if (sum == 0)
        {
            return shares;
        }

        var remainders = new Int128[weights.Count];
        var left = amount;
        for (var i = 0; i < shares.Length; i++)
        {
            var (share, remainder) = DivRem((Int128)amount * weights[i], sum);
            shares[i] = (long)share;
            remainders[i] = remainder;
            left -= shares[i];
        }

        if (left == 0)
        {
            return shares;
        }

        var order = new int[shares.Length];
        for (var i = 0; i < order.Length; i++)
        {
            order[i] = i;
        }

        Array.Sort(order, (a, b) => remainders[a] == remainders[b] ? a - b : remainders[b].CompareTo(remainders[a]));
        for (var i = 0; i < left; i++)
        {
            shares[order[i]]++;
        }

        return shares;
    }

    /// <summary>The whole number nearest to a ratio of numbers of 0 or more; at exactly one half up, or to the even neighbour.</summary>
    public static Int128 Round(Int128 numerator, Int128 denominator, MoneyRounding rounding)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(numerator);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(denominator);
        var (whole, rest) = DivRem(numerator, denominator);
        var twice = rest * 2;
        var isUp =
            twice > denominator
            || (twice == denominator && (rounding == MoneyRounding.HalfUp || Int128.IsOddInteger(whole)));
        return isUp ? whole + 1 : whole;
    }

    /// <summary>Quotient and remainder of numbers of 0 or more; amounts of this world fit 64 bits, where the processor divides by itself.</summary>
    private static (Int128 Quotient, Int128 Remainder) DivRem(Int128 numerator, Int128 denominator)
    {
        if (numerator <= long.MaxValue && denominator <= long.MaxValue)
        {
            var (quotient, remainder) = Math.DivRem((long)numerator, (long)denominator);
            return (quotient, remainder);
        }

        return (numerator / denominator, numerator % denominator);
    }
}
