using System.Text;

namespace ShopFloor.Application.Accounts;

/// <summary>Comma-separated values after RFC 4180: CRLF ends, quotes doubled, a field quoted where it must be.</summary>
public static class Csv
{
    // A spreadsheet takes a field that begins with one of these for a formula.
    private static readonly char[] FormulaStarts = ['=', '+', '-', '@', '\t', '\r'];

    private static readonly char[] NeedsQuotes = [',', '"', '\r', '\n'];

    /// <summary>Adds one record of fields that are safe to open in a spreadsheet: a text that would be run as a formula gets an apostrophe before it.</summary>
    public static StringBuilder AddRecord(this StringBuilder text, params IReadOnlyList<string?> fields)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(fields);
        for (var i = 0; i < fields.Count; i++)
        {
            text.Append(i == 0 ? "" : ",").Append(Field(fields[i] ?? ""));
        }

        return text.Append("\r\n");
    }

    private static string Field(string value)
    {
        var safe = value.Length > 0 && FormulaStarts.Contains(value[0]) ? "'" + value : value;
        return safe.IndexOfAny(NeedsQuotes) < 0
            ? safe
            : "\"" + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
    }
}
