using System.Globalization;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Learning;

/// <summary>A change of the price book that the logged hours speak for.</summary>
/// <param name="Change">By how much minutes are multiplied, after the bound of a step.</param>
/// <param name="IsBounded">The hours speak for more than is changed in one step.</param>
/// <param name="Text">What was found and what is proposed, in words.</param>
public abstract record LabourProposal(LearnedEffect Effect, double Change, bool IsBounded, string Text)
{
    /// <summary>How the page and the changed book name it; no two proposals have the same.</summary>
    public abstract string Key { get; }
}

/// <summary>Other minutes, or seconds of short runs, for a labour standard.</summary>
public sealed record StandardProposal(
    LabourStandard From,
    LabourStandard To,
    LearnedEffect Effect,
    double Change,
    bool IsBounded,
    string Text
) : LabourProposal(Effect, Change, IsBounded, Text)
{
    public override string Key => "standard:" + From.Code;
}

/// <summary>Other factors for an answer, all by the same ratio.</summary>
public sealed record FactorProposal(
    GivenAnswer Answer,
    IReadOnlyList<ConditionFactor> From,
    IReadOnlyList<ConditionFactor> To,
    LearnedEffect Effect,
    double Change,
    bool IsBounded,
    string Text
) : LabourProposal(Effect, Change, IsBounded, Text)
{
    public override string Key => $"factor:{Answer.Question}:{Answer.Answer}";
}

/// <summary>Makes proposals of what was learned.</summary>
/// <remarks>
/// One is made from <see cref="LearningRules.LeastCars"/> cars and <see cref="LearningRules.LeastOperations"/> operations on, where the change is at least
/// <see cref="LearningRules.LeastChange"/> and either the 95 % interval leaves out "no change", or the change is worth it (<see cref="LearningRules.WorthChange"/>) and its
/// direction sure enough (<see cref="LearningRules.SureOfDirection"/>). A step changes by at most <see cref="LearningRules.MostChange"/>; what remains shows in the hours that follow.
/// Minutes and seconds are rounded to three digits, factors to hundredths.
/// </remarks>
public static class LabourProposals
{
    private const decimal LeastFactor = 0.1m;
    private const decimal MostFactor = 10;

    /// <summary>In the order of the model's effects; standards and answers that the book does not have are passed over.</summary>
    public static IReadOnlyList<LabourProposal> Of(LabourModel model, PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(book);
        return [.. model.Effects.Where(IsWorthIt).Select(e => Proposal(e, book)).OfType<LabourProposal>()];
    }

    public static bool IsWorthIt(LearnedEffect effect)
    {
        ArgumentNullException.ThrowIfNull(effect);
        var change = Math.Abs(effect.Ratio - 1);
        return effect.Cars >= LearningRules.LeastCars
            && effect.Operations >= LearningRules.LeastOperations
            && change >= LearningRules.LeastChange
            && (
                effect.Low > 1
                || effect.High < 1
                || (change >= LearningRules.WorthChange && effect.SureOfDirection >= LearningRules.SureOfDirection)
            );
    }

    private static LabourProposal? Proposal(LearnedEffect effect, PriceBook book)
    {
        var change = Math.Clamp(effect.Ratio, 1 - LearningRules.MostChange, 1 + LearningRules.MostChange);
        var bounded = change != effect.Ratio;
        return effect.Thing switch
        {
            { Standard: { } code } when book.FindStandard(code) is { } standard => OfStandard(standard),
            { Answer: { } given } when Find(book, given) is { Factors.Count: > 0 } answer => OfAnswer(given, answer),
            _ => null,
        };

        StandardProposal? OfStandard(LabourStandard from)
        {
            var to = Times(from, (decimal)change);
            return to == from
                ? null
                : new StandardProposal(
                    from,
                    to,
                    effect,
                    change,
                    bounded,
                    $"{from.Title} {Found(effect)} Proposed: {Said(to)} instead of {Before(from)}.{Step(bounded)}"
                );
        }

        FactorProposal? OfAnswer(GivenAnswer given, Answer answer)
        {
            var from = answer.Factors.Where(f => f.Multiplier != 1).ToList();
            var to = from.ConvertAll(f =>
                f with
                {
                    Multiplier = Math.Clamp(
                        decimal.Round(f.Multiplier * (decimal)change, 2, MidpointRounding.AwayFromZero),
                        LeastFactor,
                        MostFactor
                    ),
                }
            );
            return from.SequenceEqual(to)
                ? null
                : new FactorProposal(
                    given,
                    from,
                    to,
                    effect,
                    change,
                    bounded,
                    $"{book.FindQuestion(given.Question)!.Title}: {answer.Title} {Found(effect)} Proposed: {Factors(book, from, to)}.{Step(bounded)}"
                );
        }
    }

    internal static Answer? Find(PriceBook book, GivenAnswer given) =>
        book.FindQuestion(given.Question)?.Answers.FirstOrDefault(a => a.Code == given.Answer);

    private static LabourStandard Times(LabourStandard standard, decimal change) =>
        standard.Runs is { } runs
            ? standard with
            {
                Runs = runs with
                {
                    ArcSeconds = Times(runs.ArcSeconds, change),
                    CoolingSeconds = Times(runs.CoolingSeconds, change),
                },
            }
            : standard with
            {
                LowMinutes = Rounded(standard.LowMinutes * change),
                LikelyMinutes = Rounded(standard.LikelyMinutes * change),
                HighMinutes = Rounded(standard.HighMinutes * change),
            };

    private static SecondsRange Times(SecondsRange seconds, decimal change) =>
        new(Rounded(seconds.Low * change), Rounded(seconds.Likely * change), Rounded(seconds.High * change));

    /// <summary>Three digits, halves away from zero.</summary>
    internal static decimal Rounded(decimal value)
    {
        if (value == 0)
        {
            return 0;
        }

        var digits = (int)Math.Floor(Math.Log10((double)value)) + 1;
        if (digits <= 3)
        {
            // The division takes off the zeros at the end: 26, not 26.0.
            return decimal.Round(value, Math.Min(28, 3 - digits), MidpointRounding.AwayFromZero)
                / 1.000000000000000000000000000m;
        }

        var scale = 1m;
        for (var i = 3; i < digits; i++)
        {
            scale *= 10;
        }

        return decimal.Round(value / scale, 0, MidpointRounding.AwayFromZero) * scale;
    }

    private static string Found(LearnedEffect effect)
    {
        var change = effect.Ratio - 1;
        var range =
            effect.Low > 1 ? $"{Percent(effect.Low - 1)} to {Percent(effect.High - 1)} % longer"
            : effect.High < 1 ? $"{Percent(1 - effect.High)} to {Percent(1 - effect.Low)} % less"
            : $"{Percent(1 - effect.Low)} % less to {Percent(effect.High - 1)} % longer";
        return $"takes {Percent(Math.Abs(change))} % {(change > 0 ? "longer" : "less time")} than estimated, by {effect.Operations} operations of {effect.Cars} cars (95 % range: {range}).";
    }

    private static string Step(bool bounded) =>
        bounded ? $" The hours speak for more; one step changes by at most {Percent(LearningRules.MostChange)} %." : "";

    private static string Said(LabourStandard standard) =>
        standard.Runs is { } runs
            ? $"{Said(runs.ArcSeconds.Low, runs.ArcSeconds.Likely, runs.ArcSeconds.High)} seconds of arc and {Said(runs.CoolingSeconds.Low, runs.CoolingSeconds.Likely, runs.CoolingSeconds.High)} of cooling for each run"
            : $"{Said(standard.LowMinutes, standard.LikelyMinutes, standard.HighMinutes)} minutes per {standard.Unit}";

    private static string Before(LabourStandard standard) =>
        standard.Runs is null
            ? Said(standard.LowMinutes, standard.LikelyMinutes, standard.HighMinutes)
            : Said(standard);

    private static string Said(decimal low, decimal likely, decimal high) =>
        $"{Number(low)}, {Number(likely)} and {Number(high)}";

    private static string Factors(PriceBook book, List<ConditionFactor> from, List<ConditionFactor> to) =>
        string.Join(
            ", ",
            from.Zip(to)
                .Select(p =>
                    $"{book.FindStandard(p.First.StandardCode)?.Title ?? p.First.StandardCode} × {Number(p.Second.Multiplier)} instead of × {Number(p.First.Multiplier)}"
                )
        );

    private static string Number(decimal value) => Common.PlainFigures.Number(value);

    private static string Percent(double share) => Math.Round(100 * share).ToString(CultureInfo.InvariantCulture);
}
