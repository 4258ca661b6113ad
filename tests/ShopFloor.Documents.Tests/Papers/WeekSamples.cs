using System.Globalization;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>A week with every table full and the longest sentences that are usual.</summary>
internal static class WeekSamples
{
    public static WeekPaper Full() =>
        new(
            Samples.Shop,
            "16 Nov to 22 Nov 2026",
            "the end of these days",
            "Finished cars took 12.4 days at the median, 85 in 100 of them no more than 19.0 days. Cars waited longest for: nobody on it (nights, free days, queue) (812.5 h). On time by the last promise: 67 %; by the first: 33 %.",
            [
                new(
                    "Cars and time",
                    [.. Enumerable.Range(1, 12).Select(i => Figure($"Figure of cars {i}", $"{i}.5 days"))]
                ),
                new("Hours", [.. Enumerable.Range(1, 6).Select(i => Figure($"Figure of hours {i}", $"{i}01.5 h"))]),
                new(
                    "Quotes and money",
                    [
                        .. Enumerable
                            .Range(1, 8)
                            .Select(i => new WeekPaperFigure(
                                $"Figure of money {i}",
                                $"{i},234.50 EUR",
                                i == 1 ? "Labour at no cost: no rate for inspector." : null
                            )),
                    ]
                ),
            ],
            [
                Table("Waiting time", ["Waited for", "Hours (h)"], 8),
                Table("Margin by job", ["Job", "Margin (EUR)", "Booked costs (EUR)", "Labour at cost (EUR)"], 8),
                Table("Flow of the last 12 weeks", ["Week from", "Taken in", "Finished", "In hand at its end"], 12),
            ],
            [
                "✓ ties out Little's law: 3.10 cars in hand on the average; 1.50 cars ended a week × 2.07 weeks each in hand = 3.11. The difference of −0.01 is what the two ends cut off: 120.0 h in the range of cars still in hand, less 121.7 h that ended cars had spent before it, over 168.0 h.",
                "✗ does not tie out Hours by person 101.0 h; hours by job 100.0 h.",
            ]
        );

    private static WeekPaperFigure Figure(string name, string value) =>
        new(name, value, value[0] == '3' ? "Not yet: nothing is invoiced of a car finished in this range." : null);

    private static WeekPaperTable Table(string title, IReadOnlyList<string> columns, int rows) =>
        new(
            title,
            columns,
            [
                .. Enumerable
                    .Range(1, rows)
                    .Select(r =>
                        (IReadOnlyList<string>)
                            [
                                .. columns.Select(
                                    (_, c) =>
                                        c == 0 ? $"Row {r} of {title}" : (r * c).ToString(CultureInfo.InvariantCulture)
                                ),
                            ]
                    ),
            ],
            rows == 8 ? "3 more on the page." : null
        );
}
