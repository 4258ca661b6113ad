namespace ShopFloor.Domain.Forecast;

/// <summary>Numbers that look random and are the same for the same seed, on every machine and in every version.</summary>
/// <remarks>SplitMix64: G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014, from memory.</remarks>
public sealed class Dice(long seed)
{
    private const ulong Step = 0x9E3779B97F4A7C15;
    private ulong state = unchecked((ulong)seed);

    /// <summary>The dice of one trial among many with the same seed.</summary>
    public static Dice Of(int seed, int trial) =>
        new(unchecked((long)Mixed(((ulong)(uint)seed << 32) ^ (uint)trial ^ Step)));

    /// <summary>Over 0 and under 1, alike everywhere.</summary>
    public double Share()
    {
        state = unchecked(state + Step);
        return ((Mixed(state) >> 11) + 0.5) * (1.0 / (1UL << 53));
    }

    /// <summary>Standard normal.</summary>
    public double Normal() => Forecast.Normal.Quantile(Share());

    private static ulong Mixed(ulong z)
    {
        unchecked
        {
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }
}
