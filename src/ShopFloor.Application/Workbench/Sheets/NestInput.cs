using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Nesting;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Reads the lists of the nesting sheet: a length, how many, and a label, with semicolons between.</summary>
internal static class NestInput
{
    public const string Stock = "stock";
    public const string Pieces = "pieces";
    public const string Kerf = "kerfMm";
    public const string Trim = "endTrimMm";

    /// <summary>What a page shows and a saw card prints; longer lists go through the API.</summary>
    public const int MostLines = 200;

    /// <summary>Null, with complaints, where something cannot be read.</summary>
    public static NestProblem? Read(BenchReader read)
    {
        var stock = Rows(read, Stock, mostParts: 2, "6096; 4").Select(r => new NestStock(r.LengthMm, r.Count)).ToList();
        var pieces = Rows(read, Pieces, mostParts: 3, "1829; 3; Sill")
            .Select((r, i) => new NestPiece(r.Label ?? $"Piece {i + 1}", r.LengthMm, r.Count ?? 1))
            .ToList();
        var kerf = Exact(read.OptionalLength(Kerf) ?? 0, Kerf, read);
        var trim = Exact(read.OptionalLength(Trim) ?? 0, Trim, read);
        if (read.Errors.Any)
        {
            return null;
        }

        if (NestProblem.Create(new NestRequest(stock, pieces, kerf, trim)).TryGet(out var problem, out var failure))
        {
            return problem;
        }

        foreach (var error in (failure as Failure.Invalid)?.Errors.Take(10) ?? [])
        {
            read.Errors.Add(FieldOf(error.Path), Said(error));
        }

        return null;
    }

    private static string FieldOf(string path) => path.Split('[')[0];

    private static string Said(FieldError error)
    {
        var open = error.Path.IndexOf('[', StringComparison.Ordinal);
        if (open < 0)
        {
            return error.Text;
        }

        var index = error.Path[(open + 1)..error.Path.IndexOf(']', StringComparison.Ordinal)];
        return $"Line {int.Parse(index, CultureInfo.InvariantCulture) + 1}: {error.Text}";
    }

    private static List<(decimal LengthMm, int? Count, string? Label)> Rows(
        BenchReader read,
        string name,
        int mostParts,
        string example
    )
    {
        var rows = new List<(decimal, int?, string?)>();
        var lines = read.Text(name).Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        read.Errors.AddIf(lines.Length == 0, name, $"Nothing stands here yet; write it like {example}.");
        read.Errors.AddIf(lines.Length > MostLines, name, $"At most {MostLines} lines are taken.");
        foreach (var (line, i) in lines.Take(MostLines).Select((l, i) => (l, i)))
        {
            var parts = line.Split(';', mostParts, StringSplitOptions.TrimEntries);
            var count = parts.Length > 1 && parts[1].Length > 0 ? parts[1] : null;
            var number = 0;
            if (
                !LengthText.TryReadMm(parts[0], read.Unit, out var millimetres)
                || (
                    count is not null
                    && !int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out number)
                )
            )
            {
                read.Errors.Add(
                    name,
                    $"Line {i + 1} is not a length and how many, with a semicolon between, such as {example}."
                );
                break;
            }

            var label = parts.Length > 2 && parts[2].Length > 0 ? parts[2] : null;
            read.Errors.AddIf(
                label is not null && (label.Length > BenchReader.LongestName || label.Any(char.IsControl)),
                name,
                $"Line {i + 1}: a label has at most {BenchReader.LongestName} characters of plain text."
            );
            rows.Add((Exact(millimetres, name, read), count is null ? null : number, label));
        }

        return rows;
    }

    /// <summary>To a ten-thousandth of a millimetre, in which lengths are nested exactly.</summary>
    private static decimal Exact(double millimetres, string name, BenchReader read)
    {
        if (Math.Abs(millimetres) <= FigureLimits.LargestMm)
        {
            return Math.Round((decimal)millimetres, NestProblem.MostDecimals);
        }

        read.Errors.Add(name, "A length here is larger than anything in a workshop; check the figure.");
        return 1;
    }

    private static class FigureLimits
    {
        public const double LargestMm = 1e7;
    }
}
