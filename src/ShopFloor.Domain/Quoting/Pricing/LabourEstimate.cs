using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A condition factor that applies, and how explanations say it.</summary>
internal sealed record AppliedFactor(decimal Multiplier, ExplanationInput Input)
{
    internal static AppliedFactor Of(Question question, Answer answer, ConditionFactor factor) =>
        new(factor.Multiplier, new($"{question.Title}: {answer.Title}", "× " + Figures.Plain(factor.Multiplier)));
}

/// <summary>One work content with its minutes after condition factors.</summary>
/// <remarks>Minutes are kept because they are short exact decimals; hours come from sums of them, divided once.</remarks>
/// <param name="Factors">What the condition multiplies this standard by.</param>
internal sealed record WorkHours(
    WorkContent Work,
    LabourStandard Standard,
    IReadOnlyList<AppliedFactor> Factors,
    MinutesRange Minutes
)
{
    /// <summary>Six times the expected minutes: low + 4 × likely + high.</summary>
    public decimal SixMinutes { get; } = Minutes.Low + (4 * Minutes.Likely) + Minutes.High;

    /// <summary>Variance in hours².</summary>
    public double Variance
    {
        get
        {
            var deviation = (double)(Minutes.High - Minutes.Low) / 360;
            return deviation * deviation;
        }
    }

    /// <summary>Expected hours of several pieces of work.</summary>
    public static decimal MeanHours(IEnumerable<WorkHours> items)
    {
        var sum = 0m;
        foreach (var item in items)
        {
            sum += item.SixMinutes;
        }

        return OfSixMinutes(sum);
    }

    /// <summary>Hours of a sum of <see cref="SixMinutes"/>.</summary>
    public static decimal OfSixMinutes(decimal sum) => sum / 360;
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
        ConfidenceRule =
            $"The whole car's hours are raised from the expected ones to those not exceeded in {confidence} of 100 cars; each phase by the same factor.";
        WholeCarInputs =
        [
            new("Whole car, expected", Figures.Hours(Hours.P50)),
            new("Whole car, priced", Figures.Hours(Hours.Priced)),
            new("Factor", Figures.Plain(decimal.Round(Scale, 4))),
        ];

        decimal At(int percent) => mean + (decimal)(Quantiles[percent] * deviation);
    }

    public IReadOnlyList<WorkHours> Items { get; }

    public decimal MeanHours { get; }

    public QuoteHours Hours { get; }

    /// <summary>How the priced hours came about, said once for all phases.</summary>
    public string ConfidenceRule { get; }

    public IReadOnlyList<ExplanationInput> WholeCarInputs { get; }

    /// <summary>Priced hours ÷ expected hours, the same for all work of the car.</summary>
    public decimal Scale { get; }

    public static LabourEstimate Of(
        BookIndex book,
        IReadOnlyList<ChosenAnswer> answers,
        IReadOnlyList<WorkContent> content
    )
    {
        var factors = FactorsOf(answers);
        var items = new List<WorkHours>(content.Count);
        foreach (var work in content)
        {
            var standard = book.Standards[work.StandardCode];
            items.Add(HoursOf(work, standard, factors.GetValueOrDefault(standard.Code) ?? NoFactors));
        }

        var mean = WorkHours.MeanHours(items);
        var together = (double)(book.Book.WholeCarSpread * mean);
        var deviation = Math.Sqrt(items.Sum(i => i.Variance) + (together * together));
        return new LabourEstimate(items, mean, deviation, book.Book.ConfidencePercent);
    }

    private static readonly IReadOnlyList<AppliedFactor> NoFactors = [];

    private static Dictionary<string, List<AppliedFactor>> FactorsOf(IReadOnlyList<ChosenAnswer> answers)
    {
        var factors = new Dictionary<string, List<AppliedFactor>>(StringComparer.Ordinal);
        foreach (var answer in answers)
        {
            foreach (var (standard, factor) in answer.Factors)
            {
                if (!factors.TryGetValue(standard, out var known))
                {
                    factors[standard] = known = [];
                }

                known.Add(factor);
            }
        }

        return factors;
    }

    private static WorkHours HoursOf(WorkContent work, LabourStandard standard, IReadOnlyList<AppliedFactor> factors)
    {
        var minutes = standard.For(work.Quantity);
        foreach (var factor in factors)
        {
            minutes = minutes.Times(factor.Multiplier);
        }

        return new WorkHours(work, standard, factors, minutes);
    }

    private static decimal Rounded(decimal hours) => decimal.Round(hours, 4, MidpointRounding.AwayFromZero);
}
