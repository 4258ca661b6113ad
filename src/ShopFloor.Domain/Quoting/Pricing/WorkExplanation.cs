using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Says how the hours of one piece of work came about.</summary>
internal static class WorkExplanation
{
    internal static Explanation Of(PriceBook book, WorkHours item)
    {
        var standard = item.Standard;
        var inputs = new List<ExplanationInput>
        {
            new("Work content", $"{Plain(item.Work.Quantity)} {standard.Unit} ({standard.Title})"),
            new(
                $"Minutes per {standard.Unit}",
                $"{Plain(standard.LowMinutes)} low, {Plain(standard.LikelyMinutes)} likely, {Plain(standard.HighMinutes)} high"
            ),
        };
        inputs.AddRange(
            item.Factors.Select(f => new ExplanationInput(
                $"{f.Question.Title}: {f.Answer.Title}",
                "× " + Plain(f.Multiplier)
            ))
        );
        return new Explanation(
            $"Operation {item.Work.OperationCode}, {item.Work.OperationTitle}: work content × minutes per unit"
                + (item.Factors.Count > 0 ? " × condition factors" : ""),
            inputs,
            $"Route template; {book.Source}; condition as answered",
            $"{Plain(decimal.Round(item.MeanHours, 2))} h expected ({Plain(decimal.Round(item.LowHours, 2))} to {Plain(decimal.Round(item.HighHours, 2))} h)",
            []
        );
    }

    internal static string Plain(decimal value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}
