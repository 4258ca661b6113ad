using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>From one time of day to another.</summary>
public readonly record struct HourSpan(TimeOnly From, TimeOnly To)
{
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{From:HH\\:mm}-{To:HH\\:mm}");
}

/// <summary>Working hours of a usual week, day by day from Monday.</summary>
/// <param name="Days">Seven lists; empty for a day off.</param>
public sealed record WeekHours(IReadOnlyList<IReadOnlyList<HourSpan>> Days)
{
    public const int MostSpans = 4;
    public const int LongestText = 60;

    /// <summary>Monday to Friday, eight hours with half an hour's break: a shop that has never said more. Common practice, no source.</summary>
    public static WeekHours Usual { get; } =
        new([
            .. Enumerable
                .Range(0, 7)
                .Select(d =>
                    (IReadOnlyList<HourSpan>)(
                        d < 5
                            ?
                            [
                                new(new TimeOnly(8, 0), new TimeOnly(12, 0)),
                                new(new TimeOnly(12, 30), new TimeOnly(16, 30)),
                            ]
                            : []
                    )
                ),
        ]);

    public bool IsEmpty => Days.All(d => d.Count == 0);

    public IReadOnlyList<HourSpan> On(DateOnly day) => Days[((int)day.DayOfWeek + 6) % 7];

    /// <summary>Hours of one usual week.</summary>
    public decimal Hours => Days.SelectMany(d => d).Sum(s => (decimal)(s.To - s.From).TotalHours);

    /// <summary>As people write a day: <c>08:00-12:00 12:30-16:30</c>; empty for a day off.</summary>
    public static string Text(IReadOnlyList<HourSpan> day) => string.Join(' ', day.Select(s => s.ToString()));

    public IReadOnlyList<string> Texts => [.. Days.Select(Text)];

    /// <summary>Reads seven texts, Monday first.</summary>
    public static Outcome<WeekHours> Read(IReadOnlyList<string?>? texts, string path)
    {
        if (texts is not { Count: 7 })
        {
            return Failure.Field(path, "Give the hours of seven days, from Monday to Sunday; leave a day off empty.");
        }

        var errors = new FieldErrors();
        var days = new List<IReadOnlyList<HourSpan>>();
        for (var d = 0; d < 7; d++)
        {
            days.Add(ReadDay(texts[d] ?? "", $"{path}[{d}]", errors));
        }

        return errors.Any ? errors.ToFailure() : new WeekHours(days);
    }

    private static List<HourSpan> ReadDay(string text, string path, FieldErrors errors)
    {
        var spans = new List<HourSpan>();
        if (text.Length > LongestText)
        {
            errors.Add(path, $"A day's hours are written in at most {LongestText} characters.");
            return spans;
        }

        foreach (
            var word in text.Replace(" - ", "-", StringComparison.Ordinal)
                .Replace('–', '-')
                .Split([' ', ',', ';'], StringSplitOptions.RemoveEmptyEntries)
        )
        {
            var ends = word.Split('-');
            if (ends.Length != 2 || !IsTime(ends[0], out var from) || !IsTime(ends[1], out var to))
            {
                errors.Add(path, $"'{word}' is not a span of hours; write it like 08:00-12:00.");
            }
            else if (to <= from)
            {
                errors.Add(path, $"{word} ends before it begins.");
            }
            else if (spans.Count > 0 && from < spans[^1].To)
            {
                errors.Add(path, $"{word} begins before {spans[^1]} has ended.");
            }
            else
            {
                spans.Add(new HourSpan(from, to));
            }
        }

        errors.AddIf(spans.Count > MostSpans, path, $"A day has at most {MostSpans} spans.");
        return spans;
    }

    private static bool IsTime(string text, out TimeOnly time) =>
        TimeOnly.TryParseExact(text, ["HH:mm", "H:mm"], CultureInfo.InvariantCulture, DateTimeStyles.None, out time);
}

/// <summary>Days on which somebody, or the shop, is not there; both ends included.</summary>
public sealed record DaysOff(DateOnly From, DateOnly To, string? Note)
{
    public const int MostOfAList = 100;

    public bool Covers(DateOnly day) => day >= From && day <= To;

    public static Outcome<IReadOnlyList<DaysOff>> ReadList(IReadOnlyList<DaysOff>? list, string path)
    {
        var errors = new FieldErrors();
        var rows = list ?? [];
        errors.AddIf(rows.Count > MostOfAList, path, $"At most {MostOfAList} spans of days off are kept.");
        var read = new List<DaysOff>();
        for (var i = 0; i < Math.Min(rows.Count, MostOfAList); i++)
        {
            var row = rows[i];
            errors.AddIf(
                row.To < row.From,
                $"{path}[{i}].to",
                $"The last day, {row.To:yyyy-MM-dd}, lies before the first, {row.From:yyyy-MM-dd}."
            );
            errors.AddIf(
                row.To.DayNumber - row.From.DayNumber > WorkAxis.MostDays,
                $"{path}[{i}].to",
                $"Days off in one go are at most {WorkAxis.MostDays}."
            );
            read.Add(
                row with
                {
                    Note = TextRules.Optional(row.Note, $"{path}[{i}].note", "The note", TextRules.Code, errors),
                }
            );
        }

        return errors.Any ? errors.ToFailure() : read.OrderBy(d => d.From).ThenBy(d => d.To).ToList();
    }
}
