using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Says how the hours of one piece of work came about.</summary>
internal static class WorkExplanation
{
    internal static Explanation Of(BookIndex index, WorkHours item)
    {
        var standard = item.Standard;
        var inputs = new List<ExplanationInput>(3 + item.Factors.Count)
        {
            new("Work content", $"{Figures.Plain(item.Work.Quantity)} {standard.Unit} ({standard.Title})"),
        };
        if (standard.Runs is { } runs)
        {
            inputs.Add(
                new("Short runs", $"{Figures.Plain(runs.Count(item.Work.Quantity))} of {Figures.Plain(runs.RunMm)} mm")
            );
            inputs.Add(new("Arc for each run", Range(runs.ArcSeconds)));
            inputs.Add(new("Cooling after each run", Range(runs.CoolingSeconds)));
        }
        else
        {
            inputs.Add(
                new(
                    $"Minutes per {standard.Unit}",
                    $"{Figures.Plain(standard.LowMinutes)} low, {Figures.Plain(standard.LikelyMinutes)} likely, {Figures.Plain(standard.HighMinutes)} high"
                )
            );
        }

        foreach (var (question, answer, multiplier) in item.Factors)
        {
            inputs.Add(new ExplanationInput($"{question.Title}: {answer.Title}", "× " + Figures.Plain(multiplier)));
        }

        return new Explanation(
            $"Operation {item.Work.OperationCode}, {item.Work.OperationTitle}: "
                + (standard.Runs is null ? "work content × minutes per unit" : "runs × (arc + cooling)")
                + (item.Factors.Count > 0 ? " × condition factors" : ""),
            inputs,
            $"Route template; {index.Source}; condition as answered",
            $"{Figures.Hours(item.MeanHours)} expected ({Figures.Plain(decimal.Round(item.LowHours, 2))} to {Figures.Hours(item.HighHours)})",
            []
        );
    }

    private static string Range(SecondsRange seconds) =>
        $"{Figures.Plain(seconds.Low)} low, {Figures.Plain(seconds.Likely)} likely, {Figures.Plain(seconds.High)} high seconds";
}
