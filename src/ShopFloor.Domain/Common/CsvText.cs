using System.Text;

namespace ShopFloor.Domain.Common;

/// <summary>One row of a CSV file: its number as spreadsheets count (1 for the first, a row of several lines once), and its cells.</summary>
public sealed record CsvLine(int Number, IReadOnlyList<string> Cells);

/// <summary>Reads and writes comma-separated values as RFC 4180 has them: CRLF between lines, cells in double quotes where they hold a comma, a quote or a line break, quotes inside doubled.</summary>
public static class CsvText
{
    private static readonly char[] NeedsQuotes = [',', '"', '\r', '\n'];

    /// <summary>Writes lines of cells, each ended with CRLF.</summary>
    public static string Write(IEnumerable<IEnumerable<string?>> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        var text = new StringBuilder();
        foreach (var line in lines)
        {
            text.AppendJoin(',', line.Select(Cell)).Append("\r\n");
        }

        return text.ToString();
    }

    /// <summary>Reads a file's text; LF alone ends a line too, a byte-order mark is passed over, blank lines at the end are not lines.</summary>
    /// <param name="text">The whole file.</param>
    /// <param name="largest">The greatest length that is read, in characters.</param>
    /// <returns>The lines, or one sentence that names the line where the text stops being CSV.</returns>
    public static Outcome<IReadOnlyList<CsvLine>> Read(string text, int largest)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > largest)
        {
            return new Failure.TooLarge($"The file has {text.Length} characters; at most {largest} are read.");
        }

        var reader = new Reader(text);
        var lines = new List<CsvLine>();
        while (!reader.IsAtEnd)
        {
            var number = reader.Line;
            var (cells, wrong) = reader.Next();
            if (wrong is not null)
            {
                return Failure.Field($"line {number}", $"Line {number}: {wrong}");
            }

            lines.Add(new CsvLine(lines.Count + 1, cells));
        }

        while (lines is [.., { Cells: [""] }])
        {
            lines.RemoveAt(lines.Count - 1);
        }

        return lines;
    }

    /// <summary>A text that a spreadsheet would take for a formula gets an apostrophe before it; <see cref="Unguard"/> takes it off again.</summary>
    /// <remarks>The leading characters are those of the OWASP page on CSV injection: = + - @, tab and carriage return.</remarks>
    public static string Guard(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return IsFormula(text) ? "'" + text : text;
    }

    /// <summary>The text without the apostrophe that <see cref="Guard"/> put before it.</summary>
    public static string Unguard(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.StartsWith('\'') && IsFormula(text) ? text[1..] : text;
    }

    private static bool IsFormula(string text) =>
        text.TrimStart('\'') is [var first, ..] && first is '=' or '+' or '-' or '@' or '\t' or '\r';

    private static string Cell(string? text) =>
        text is null ? ""
        : text.IndexOfAny(NeedsQuotes) < 0 ? text
        : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    private sealed class Reader(string text)
    {
        private int at = text.StartsWith('\uFEFF') ? 1 : 0;

        public int Line { get; private set; } = 1;

        public bool IsAtEnd => at >= text.Length;

        /// <summary>The cells up to the end of the line, which is passed.</summary>
        public (IReadOnlyList<string> Cells, string? Wrong) Next()
        {
            var cells = new List<string>();
            while (true)
            {
                var (cell, wrong) = !IsAtEnd && text[at] == '"' ? Quoted() : (Bare(), null);
                if (wrong is not null)
                {
                    return (cells, wrong);
                }

                cells.Add(cell);
                if (IsAtEnd)
                {
                    return (cells, null);
                }

                var end = text[at++];
                if (end == ',')
                {
                    continue;
                }

                if (end == '\r' && !IsAtEnd && text[at] == '\n')
                {
                    at++;
                }

                Line++;
                return (cells, null);
            }
        }

        private string Bare()
        {
            var start = at;
            while (!IsAtEnd && text[at] is not (',' or '\r' or '\n'))
            {
                at++;
            }

            return text[start..at];
        }

        private (string, string?) Quoted()
        {
            var cell = new StringBuilder();
            for (at++; !IsAtEnd; at++)
            {
                var c = text[at];
                if (c == '"')
                {
                    if (at + 1 >= text.Length || text[at + 1] != '"')
                    {
                        at++;
                        return IsAtEnd || text[at] is ',' or '\r' or '\n'
                            ? (cell.ToString(), null)
                            : (
                                "",
                                $"after a closing quote a comma or the end of the line is expected, not '{text[at]}'."
                            );
                    }

                    at++;
                }
                else if (c == '\n' || (c == '\r' && (at + 1 >= text.Length || text[at + 1] != '\n')))
                {
                    Line++;
                }

                cell.Append(c);
            }

            return ("", "a quote is opened and not closed.");
        }
    }
}
