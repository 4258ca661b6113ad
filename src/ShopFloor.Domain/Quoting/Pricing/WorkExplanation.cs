using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Says how the hours of one piece of work came about.</summary>
internal static class WorkExplanation
{
    internal static Explanation Of(BookIndex index, WorkHours item)
    {
        var (work, standard) = (item.Work, item.Standard);
        var text = index.StandardTexts[standard.Code];
        var inputs = new List<ExplanationInput>(2 + text.Inputs.Count + item.Factors.Count)
        {
            new("Work content", Figures.Plain(work.Quantity) + text.Content),
        };
        if (standard.Runs is { } runs)
        {
            inputs.Add(
                new("Short runs", $"{Figures.Plain(runs.Count(work.Quantity))} of {Figures.Plain(runs.RunMm)} mm")
            );
        }

        inputs.AddRange(text.Inputs);
        foreach (var factor in item.Factors)
        {
            inputs.Add(factor.Input);
        }

        var rule = (standard.Runs is null, item.Factors.Count > 0) switch
        {
            (true, false) => ": work content × minutes per unit",
            (true, true) => ": work content × minutes per unit × condition factors",
            (false, false) => ": runs × (arc + cooling)",
            (false, true) => ": runs × (arc + cooling) × condition factors",
        };
        return new Explanation(
            string.Concat(["Operation ", work.OperationCode, ", ", work.OperationTitle, rule]),
            inputs,
            index.WorkSource,
            string.Concat([
                Figures.HoursOfMinutes(item.SixMinutes, 6),
                " h expected (",
                Figures.HoursOfMinutes(item.Minutes.Low),
                " to ",
                Figures.HoursOfMinutes(item.Minutes.High),
                " h)",
            ]),
            []
        );
    }
}
