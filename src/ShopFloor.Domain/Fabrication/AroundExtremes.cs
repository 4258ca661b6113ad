namespace ShopFloor.Domain.Fabrication;

/// <summary>Least and greatest place of a curve round a tube, closed in to the last digits.</summary>
internal static class AroundExtremes
{
    // Enough that between two samples there is at most one hill or valley; each is then closed in.
    private const int Samples = 1440;
    private const double GoldenShare = 0.6180339887498949;
    private const double Closed = 1e-13;

    /// <summary>The place in radians and the figure there.</summary>
    public static (double Around, double AxialMm) Of(Func<double, double> axialMm, bool greatest)
    {
        var sign = greatest ? 1 : -1;
        var best = (Around: 0.0, Value: double.NegativeInfinity);
        var values = new double[Samples];
        for (var i = 0; i < Samples; i++)
        {
            values[i] = sign * axialMm(Around(i));
            Take(Around(i), values[i]);
        }

        for (var i = 0; i < Samples; i++)
        {
            var (before, after) = (values[(i + Samples - 1) % Samples], values[(i + 1) % Samples]);
            if (values[i] >= before && values[i] >= after)
            {
                var hill = Climb(axialMm, Around(i - 1), Around(i + 1), sign);
                Take(hill, sign * axialMm(hill));
            }
        }

        return (best.Around, sign * best.Value);

        void Take(double around, double value)
        {
            if (value > best.Value)
            {
                best = (around, value);
            }
        }
    }

    private static double Around(int sample) => 2 * Math.PI * sample / Samples;

    private static double Climb(Func<double, double> axialMm, double low, double high, int sign)
    {
        var (left, right) = (high - (GoldenShare * (high - low)), low + (GoldenShare * (high - low)));
        var (atLeft, atRight) = (sign * axialMm(left), sign * axialMm(right));
        while (high - low > Closed)
        {
            if (atLeft >= atRight)
            {
                (high, right, atRight) = (right, left, atLeft);
                left = high - (GoldenShare * (high - low));
                atLeft = sign * axialMm(left);
            }
            else
            {
                (low, left, atLeft) = (left, right, atRight);
                right = low + (GoldenShare * (high - low));
                atRight = sign * axialMm(right);
            }
        }

        return (low + high) / 2;
    }
}
