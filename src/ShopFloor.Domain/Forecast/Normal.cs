namespace ShopFloor.Domain.Forecast;

/// <summary>The standard normal distribution: shares, their logarithms far out, and quantiles.</summary>
public static class Normal
{
    private const double LogRootTwoPi = 0.9189385332046727;

    /// <summary>Up to here the series is summed; beyond it the continued fraction has the fewer terms.</summary>
    private const double SeriesUpTo = 3;

    /// <summary>The quantile of 97.5 %: half the width of a 95 % interval.</summary>
    public const double Z95 = 1.959963984540054;

    /// <summary>Logarithm of the share that lies above a value; exact far out too, where the share itself would be 0.</summary>
    /// <remarks>
    /// Up to 3: Φ(x) = ½ + φ(x)·(x + x³/3 + x⁵/(3·5) + …). Beyond: the continued fraction φ(x)/(x + 1/(x + 2/(x + 3/(x + …)))).
    /// Both are classical (Laplace); here as in G. Marsaglia, Evaluating the Normal Distribution, Journal of Statistical Software 11 (2004), from memory.
    /// </remarks>
    public static double LogAbove(double x) =>
        x > SeriesUpTo ? LogDensity(x) - Math.Log(Fraction(x))
        : x < -SeriesUpTo ? Log1Minus(Math.Exp(LogDensity(x)) / Fraction(-x))
        : Math.Log(0.5 - Middle(x));

    /// <summary>Share that lies above a value.</summary>
    public static double Above(double x) => Math.Exp(LogAbove(x));

    /// <summary>Share that lies at or under a value.</summary>
    public static double Under(double x) => Above(-x);

    /// <summary>The value under which a share lies.</summary>
    /// <remarks>Algorithm AS 241 (PPND16) of M. J. Wichura, The Percentage Points of the Normal Distribution, Applied Statistics 37 (1988), from memory; about 16 digits.</remarks>
    /// <param name="share">Over 0 and under 1.</param>
    public static double Quantile(double share)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(share);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(share, 1);
        var q = share - 0.5;
        if (Math.Abs(q) <= 0.425)
        {
            var r = 0.180625 - (q * q);
            return q * Ratio(r, MiddleTop, MiddleBottom);
        }

        return (q < 0 ? -1 : 1) * Tail(-Math.Log(q < 0 ? share : 1 - share));
    }

    /// <summary>The value above which a share lies whose logarithm is given; for shares too small to be written down.</summary>
    /// <param name="logShare">Under the logarithm of ½.</param>
    internal static double QuantileAbove(double logShare) =>
        logShare > Math.Log(0.075) ? -Quantile(Math.Exp(logShare)) : Refined(Tail(-logShare), logShare);

    /// <summary>Newton's steps on the logarithm of the share above: far out the published approximation ends at 10⁻³¹⁶.</summary>
    private static double Refined(double x, double logShare)
    {
        for (var step = 0; step < 4; step++)
        {
            var at = LogAbove(x);
            x += (at - logShare) * Math.Exp(at - LogDensity(x));
        }

        return x;
    }

    private static double Tail(double minusLog)
    {
        var r = Math.Sqrt(minusLog);
        return r <= 5 ? Ratio(r - 1.6, NearTop, NearBottom) : Ratio(r - 5, FarTop, FarBottom);
    }

    private static double LogDensity(double x) => (-0.5 * x * x) - LogRootTwoPi;

    private static double Log1Minus(double small) => small < 1e-5 ? -small - (small * small / 2) : Math.Log(1 - small);

    /// <summary>Share between 0 and a value, with its sign.</summary>
    private static double Middle(double x)
    {
        var term = x;
        var sum = x;
        for (var k = 3; Math.Abs(term) > 1e-17 * Math.Abs(sum); k += 2)
        {
            term *= x * x / k;
            sum += term;
        }

        return sum * Math.Exp(LogDensity(x));
    }

    private static double Fraction(double x)
    {
        var value = x;
        for (var k = 80; k > 0; k--)
        {
            value = x + (k / value);
        }

        return value;
    }

    private static double Ratio(double r, double[] top, double[] bottom) => Polynomial(r, top) / Polynomial(r, bottom);

    private static double Polynomial(double r, double[] terms)
    {
        var value = 0.0;
        for (var i = terms.Length - 1; i >= 0; i--)
        {
            value = (value * r) + terms[i];
        }

        return value;
    }

    private static readonly double[] MiddleTop =
    [
        3.3871328727963666080,
        133.14166789178437745,
        1971.5909503065514427,
        13731.693765509461125,
        45921.953931549871457,
        67265.770927008700853,
        33430.575583588128105,
        2509.0809287301226727,
    ];

    private static readonly double[] MiddleBottom =
    [
        1,
        42.313330701600911252,
        687.18700749205790830,
        5394.1960214247511077,
        21213.794301586595867,
        39307.895800092710610,
        28729.085735721942674,
        5226.4952788528545610,
    ];

    private static readonly double[] NearTop =
    [
        1.42343711074968357734,
        4.63033784615654529590,
        5.76949722146069140550,
        3.64784832476320460504,
        1.27045825245236838258,
        0.241780725177450611770,
        0.0227238449892691845833,
        7.74545014278341407640e-4,
    ];

    private static readonly double[] NearBottom =
    [
        1,
        2.05319162663775882187,
        1.67638483018380384940,
        0.689767334985100004550,
        0.148103976427480074590,
        0.0151986665636164571966,
        5.47593808499534494600e-4,
        1.05075007164441684324e-9,
    ];

    private static readonly double[] FarTop =
    [
        6.65790464350110377720,
        5.46378491116411436990,
        1.78482653991729133580,
        0.296560571828504891230,
        0.0265321895265761230930,
        0.00124266094738807843860,
        2.71155556874348757815e-5,
        2.01033439929228813265e-7,
    ];

    private static readonly double[] FarBottom =
    [
        1,
        0.599832206555887937690,
        0.136929880922735805310,
        0.0148753612908506148525,
        7.86869131145613259100e-4,
        1.84631831751005468180e-5,
        1.42151175831644588870e-7,
        2.04426310338993978564e-15,
    ];
}
