using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>One work content with its hours after condition factors.</summary>
/// <param name="Factors">The answers that multiply this standard.</param>
internal sealed record WorkHours(
    WorkContent Work,
    LabourStandard Standard,
    IReadOnlyList<(Question Question, Answer Answer, decimal Multiplier)> Factors,
    decimal LowHours,
    decimal LikelyHours,
    decimal HighHours
)
{
    public decimal MeanHours { get; } = (LowHours + (4 * LikelyHours) + HighHours) / 6;

    public decimal Variance { get; } = (HighHours - LowHours) / 6 * ((HighHours - LowHours) / 6);
}

/// <summary>Hours of a whole car: work content × minutes per unit × condition factors, summed as three-point estimates, with one spread for the car as a whole.</summary>
/// <remarks>
/// Means add. The variance is the sum of the items' variances (as if independent) plus (spread × mean)², because the hours of one car
/// rise and fall together: a bad floor is bad under every plate. The sum is read as normal; quantiles of the standard normal distribution.
/// </remarks>
internal sealed class LabourEstimate
{
    private static readonly Dictionary<int, double> Quantiles = new()
    {
        [50] = 0,
        [80] = ThreePoint.Z80,
        [85] = 1.0364333894937898,
        [90] = 1.2815515655446004,
        [95] = 1.6448536269514722,
    };

    private LabourEstimate(IReadOnlyList<WorkHours> items, decimal mean, double deviation, int confidence)
    {
        Items = items;
        MeanHours = mean;
        var priced = At(confidence);
        Hours = new QuoteHours(Rounded(mean), Rounded(At(80)), Rounded(priced), confidence);
        Scale = mean == 0 ? 1 : priced / mean;

        decimal At(int percent) => mean + (decimal)(Quantiles[percent] * deviation);
    }

    public IReadOnlyList<WorkHours> Items { get; }

    public decimal MeanHours { get; }

    public QuoteHours Hours { get; }

    /// <summary>Priced hours ÷ expected hours, the same for all work of the car.</summary>
    public decimal Scale { get; }

    public static LabourEstimate Of(
        BookIndex book,
        IReadOnlyList<ChosenAnswer> answers,
        IReadOnlyList<WorkContent> content
    )
    {
        var factors = answers
            .SelectMany(a => a.Answer.Factors.Where(f => f.Multiplier != 1).Select(f => (a.Question, a.Answer, f)))
            .ToLookup(f => f.f.StandardCode, f => (f.Question, f.Answer, f.f.Multiplier), StringComparer.Ordinal);
        var items = new List<WorkHours>(content.Count);
        foreach (var work in content)
        {
            var standard = book.Standards[work.StandardCode];
            items.Add(HoursOf(work, standard, [.. factors[standard.Code]]));
        }

        var mean = items.Sum(i => i.MeanHours);
        var together = book.Book.WholeCarSpread * mean;
        var deviation = Math.Sqrt((double)(items.Sum(i => i.Variance) + (together * together)));
        return new LabourEstimate(items, mean, deviation, book.Book.ConfidencePercent);
    }

    private static WorkHours HoursOf(
        WorkContent work,
        LabourStandard standard,
        IReadOnlyList<(Question, Answer, decimal Multiplier)> factors
    )
    {
        var multiplier = 1m;
        foreach (var factor in factors)
        {
            multiplier *= factor.Multiplier;
        }

        var minutes = standard.For(work.Quantity);
        var scale = multiplier / 60;
        return new WorkHours(
            work,
            standard,
            factors,
            minutes.Low * scale,
            minutes.Likely * scale,
            minutes.High * scale
        );
    }

    private static decimal Rounded(decimal hours) => decimal.Round(hours, 4, MidpointRounding.AwayFromZero);
}
