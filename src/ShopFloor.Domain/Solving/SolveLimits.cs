using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Solving;

/// <summary>What one run of a solver may use.</summary>
/// <param name="Seconds">Wall time, <see cref="LeastSeconds"/> to <see cref="MostSeconds"/>.</param>
/// <param name="Seed">The same seed with one worker gives the same answer.</param>
/// <param name="Workers">Threads that search.</param>
public sealed record SolveLimits(int Seconds, int Seed = 1, int Workers = SolveLimits.UsualWorkers)
{
    public const int LeastSeconds = 1;
    public const int MostSeconds = 120;
    public const int UsualSeconds = 10;
    public const int UsualWorkers = 2;

    public static void CheckSeconds(int seconds, string path, FieldErrors errors) =>
        errors.AddIf(
            seconds is < LeastSeconds or > MostSeconds,
            path,
            $"The time limit is {LeastSeconds} to {MostSeconds} seconds."
        );
}

/// <summary>How far a run has come: the best answer so far and what no answer can beat.</summary>
/// <param name="Best">In the unit of the problem; null while there is no answer.</param>
public sealed record SolveProgress(long? Best, long Bound)
{
    /// <summary>How much better than the best answer so far any other can be, at most; 0 to 1, null while there is none.</summary>
    public double? Gap => Best is { } best ? (best <= 0 ? 0 : Math.Max(0, (best - Bound) / (double)best)) : null;
}
