using System.Globalization;
using System.Text;

namespace ShopFloor.Domain.Messages;

/// <summary>An appointment for a calendar, written by RFC 5545 (iCalendar) with the method PUBLISH of RFC 5546.</summary>
/// <param name="Uid">The same for the same appointment, however often it is moved (3.8.4.7).</param>
/// <param name="Sequence">Rises when it is moved (3.8.7.4).</param>
/// <param name="Start">Null: the whole day.</param>
public sealed record CalendarEntry(
    string Uid,
    int Sequence,
    DateTimeOffset Stamp,
    DateOnly Day,
    DateTimeOffset? Start,
    string Summary,
    string Location
)
{
    /// <summary>When it ends, for one with a beginning; null: half an hour after it.</summary>
    public DateTimeOffset? End { get; init; }

    /// <summary>3.1: lines of content are at most 75 octets long, without the line break.</summary>
    private const int LongestLine = 75;

    private static readonly TimeSpan Length = TimeSpan.FromMinutes(30);

    /// <summary>A calendar of these entries.</summary>
    public static string Write(IEnumerable<CalendarEntry> entries)
    {
        var text = new StringBuilder();
        Line(text, "BEGIN:VCALENDAR");
        Line(text, "VERSION:2.0");
        Line(text, "PRODID:-//ShopFloor//Appointments//EN");
        Line(text, "METHOD:PUBLISH");
        foreach (var entry in entries)
        {
            entry.Write(text);
        }

        Line(text, "END:VCALENDAR");
        return text.ToString();
    }

    private void Write(StringBuilder text)
    {
        Line(text, "BEGIN:VEVENT");
        Line(text, "UID:" + Text(Uid));
        Line(text, "DTSTAMP:" + Utc(Stamp));
        Line(text, string.Create(CultureInfo.InvariantCulture, $"SEQUENCE:{Sequence}"));
        if (Start is { } start)
        {
            Line(text, "DTSTART:" + Utc(start));
            Line(text, "DTEND:" + Utc(End ?? start + Length));
        }
        else
        {
            Line(text, "DTSTART;VALUE=DATE:" + Date(Day));
            Line(text, "DTEND;VALUE=DATE:" + Date(Day.AddDays(1)));
        }

        Line(text, "SUMMARY:" + Text(Summary));
        if (Location.Length > 0)
        {
            Line(text, "LOCATION:" + Text(Location));
        }

        Line(text, "TRANSP:TRANSPARENT");
        Line(text, "STATUS:CONFIRMED");
        Line(text, "END:VEVENT");
    }

    private static string Utc(DateTimeOffset at) =>
        at.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);

    private static string Date(DateOnly day) => day.ToString("yyyyMMdd", CultureInfo.InvariantCulture);

    /// <summary>3.3.11: backslash, semicolon, comma and line breaks are escaped; other control characters have no place.</summary>
    private static string Text(string value) =>
        new string([.. value.ReplaceLineEndings("\n").Where(c => c == '\n' || !char.IsControl(c))])
            .Replace("\\", @"\\", StringComparison.Ordinal)
            .Replace(";", @"\;", StringComparison.Ordinal)
            .Replace(",", @"\,", StringComparison.Ordinal)
            .Replace("\n", @"\n", StringComparison.Ordinal);

    /// <summary>Folds by octets, never within a character; a continued line begins with a space that counts.</summary>
    private static void Line(StringBuilder text, string line)
    {
        var octets = 0;
        foreach (var rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > LongestLine)
            {
                text.Append("\r\n ");
                octets = 1;
            }

            text.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }

        text.Append("\r\n");
    }
}
