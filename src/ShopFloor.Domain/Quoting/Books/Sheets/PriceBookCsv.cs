using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A part of the price book that is one CSV file.</summary>
/// <param name="Code">E.g. <c>kit-parts</c>.</param>
/// <param name="Title">As people read it: "Kits: parts".</param>
/// <param name="Columns">Heads of its columns in the order in which they are written.</param>
/// <param name="NeededColumns">Columns that a file must have; any other may be left out and keeps its values.</param>
public sealed record CsvPart(
    string Code,
    string Title,
    IReadOnlyList<string> Columns,
    IReadOnlyList<string> NeededColumns
);

/// <summary>Parts of the price book as CSV files (RFC 4180) for spreadsheets. Amounts are in whole units with the currency's digits and a point (98.00), yes and no are words, days are yyyy-MM-dd, a list has one line of its cell for each text.</summary>
public static class PriceBookCsv
{
    public const int LargestCharacters = BookDocument.LargestBytes;
    private const int MostErrors = 50;

    public static IReadOnlyList<CsvPart> Parts { get; } = [.. CsvSheet.All.Select(s => s.Part)];

    public static CsvPart? Find(string code) => Parts.FirstOrDefault(p => p.Code == code);

    /// <summary>Writes one part. The part must be one of <see cref="Parts"/>.</summary>
    public static string Write(PriceBook book, string part)
    {
        ArgumentNullException.ThrowIfNull(book);
        return CsvSheet.All.Single(s => s.Part.Code == part).Write(BookRows.Of(book));
    }

    /// <summary>The book with one part taken from a file. The file holds the whole part: entries that are not in it are taken out; a column that is not in it keeps its values.</summary>
    /// <returns>Refused with row and column where a cell cannot be read. Whether the book can be adopted is for <see cref="PriceBookRules"/>.</returns>
    public static Outcome<PriceBook> Read(PriceBook book, string part, string csv)
    {
        ArgumentNullException.ThrowIfNull(book);
        if (CsvSheet.All.FirstOrDefault(s => s.Part.Code == part) is not { } sheet)
        {
            return Failure.Field(
                "part",
                $"There is no part '{part}'; take one of: {string.Join(", ", Parts.Select(p => p.Code))}."
            );
        }

        if (!CsvText.Read(csv, LargestCharacters).TryGet(out var lines, out var failure))
        {
            return failure;
        }

        var root = BookRows.Of(book);
        var errors = new FieldErrors();
        sheet.Take(root, lines, errors);
        if (errors.Any)
        {
            return First(errors);
        }

        var (changed, wrong) = BookRows.Read(root, book.Currency);
        foreach (var error in wrong)
        {
            var column = error.Field.Column;
            // A part with a single row has it below its heads.
            var row = error.Row.Line ?? 2;
            errors.Add($"row {row}, {column}", $"Row {row}, column {column}: {error.Text}");
        }

        return errors.Any
            ? First(errors)
            : changed! with
            {
                Edition = book.Edition,
                EffectiveFrom = book.EffectiveFrom,
            };
    }

    /// <summary>A file in which every row is wrong is told so often enough.</summary>
    private static Failure.Invalid First(FieldErrors errors) =>
        new Failure.Invalid([.. ((Failure.Invalid)errors.ToFailure()).Errors.Take(MostErrors)]);
}
