using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Domain.Nesting;

/// <summary>
/// A nest in a few lines of text, to be kept beside the list it was made for: first what was proven, with a mark of the list; then bars of one kind a
/// line, "times x stock: pieces", pieces by the number of their line in the list, such as <c>2x6096: 1*2 3</c>.
/// </summary>
public static class NestText
{
    private const string Version = "nest1";

    public static string Write(NestRequest request, NestAnswer answer)
    {
        var lines = Lines(request);
        var text = new StringBuilder();
        text.Append(
            CultureInfo.InvariantCulture,
            $"{Version} {Mark(request)} {answer.LowerBoundStockMm:0.####} {answer.LowerBoundBars} {(answer.IsProvenOptimal ? "best" : "open")}"
        );
        foreach (var bars in answer.Bars.GroupBy(b => Bar(b, lines)))
        {
            text.Append(CultureInfo.InvariantCulture, $"\n{bars.Count()}x{bars.Key}");
        }

        return text.ToString();
    }

    /// <summary>Null where the text is no nest of this list: it was made for another, or was changed since.</summary>
    public static NestAnswer? Read(NestRequest request, string text)
    {
        var rows = text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        if (
            rows.Length == 0
            || rows[0].Split(' ') is not [Version, var mark, var stock, var bars, "best" or "open"]
            || mark != Mark(request)
            || !TryNumber(stock, out var stockBound)
            || !int.TryParse(bars, NumberStyles.None, CultureInfo.InvariantCulture, out var barsBound)
        )
        {
            return null;
        }

        var lines = Lines(request);
        var read = new List<NestBar>();
        foreach (var row in rows.Skip(1))
        {
            if (!TryBars(request, lines, row, read))
            {
                return null;
            }
        }

        var answer = new NestAnswer(read, stockBound, barsBound, rows[0].EndsWith("best", StringComparison.Ordinal));
        return NestCheck.Faults(request, answer).Count == 0 ? answer : null;
    }

    private static bool TryBars(
        NestRequest request,
        List<(string Label, decimal LengthMm)> lines,
        string row,
        List<NestBar> read
    )
    {
        var (cross, colon) = (row.IndexOf('x', StringComparison.Ordinal), row.IndexOf(':', StringComparison.Ordinal));
        if (
            cross < 1
            || colon < cross
            || !int.TryParse(row[..cross], NumberStyles.None, CultureInfo.InvariantCulture, out var times)
            || !TryNumber(row[(cross + 1)..colon], out var stock)
            || times + read.Count > NestProblem.MostPieces
        )
        {
            return false;
        }

        var cuts = new List<NestCut>();
        foreach (var piece in row[(colon + 1)..].Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = piece.Split('*');
            var count = 1;
            if (
                parts.Length > 2
                || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var line)
                || line < 1
                || line > lines.Count
                || (
                    parts.Length == 2
                    && !int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out count)
                )
                || cuts.Count + count > NestProblem.MostPieces
            )
            {
                return false;
            }

            cuts.AddRange(Enumerable.Repeat(new NestCut(lines[line - 1].Label, lines[line - 1].LengthMm), count));
        }

        read.AddRange(Enumerable.Repeat(new NestBar(stock, cuts, NestLayout.Remnant(request, stock, cuts)), times));
        return true;
    }

    private static string Bar(NestBar bar, List<(string Label, decimal LengthMm)> lines)
    {
        var pieces = new List<(int Line, int Count)>();
        foreach (var cut in bar.Cuts)
        {
            var line = lines.IndexOf((cut.Label, cut.LengthMm)) + 1;
            if (pieces.Count > 0 && pieces[^1].Line == line)
            {
                pieces[^1] = (line, pieces[^1].Count + 1);
            }
            else
            {
                pieces.Add((line, 1));
            }
        }

        var said = string.Join(
            ' ',
            pieces.Select(p =>
                p.Count == 1
                    ? p.Line.ToString(CultureInfo.InvariantCulture)
                    : string.Create(CultureInfo.InvariantCulture, $"{p.Line}*{p.Count}")
            )
        );
        return string.Create(CultureInfo.InvariantCulture, $"{bar.StockLengthMm:0.####}: {said}");
    }

    /// <summary>Different pieces in the order of the list.</summary>
    private static List<(string Label, decimal LengthMm)> Lines(NestRequest request) =>
        [.. request.Pieces.Select(p => (p.Label, p.LengthMm)).Distinct()];

    /// <summary>Any change of the list, the stock, the kerf or the trim changes it.</summary>
    private static string Mark(NestRequest request)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{request.KerfMm:0.####};{request.EndTrimMm:0.####}");
        foreach (var stock in request.Stock)
        {
            text.Append(CultureInfo.InvariantCulture, $"|{stock.LengthMm:0.####};{stock.Quantity}");
        }

        foreach (var piece in request.Pieces)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n{piece.LengthMm:0.####};{piece.Quantity};{piece.Label}");
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..12];
    }

    private static bool TryNumber(string text, out decimal value) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value)
        && value <= (decimal)1e12;
}
