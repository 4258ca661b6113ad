using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>A customer of a file, with the cars of all their rows.</summary>
/// <param name="Row">The first row that names them.</param>
/// <param name="Details">As typed.</param>
/// <param name="Cars">Each with its row.</param>
public sealed record SheetCustomer(int Row, CustomerDetails Details, IReadOnlyList<(int Row, CarDetails Details)> Cars);

/// <summary>Customers and cars as a CSV file (RFC 4180) has them: a row for each car, with its owner; a row without a car for an owner alone. Rows with the same name, e-mail address and telephone are one customer.</summary>
public static class CustomerSheet
{
    /// <summary>In characters.</summary>
    public const int Largest = 1_000_000;

    /// <summary>Rows below the heads.</summary>
    public const int MostRows = 2_000;

    /// <summary>Sentences that are told at most; a file of another layout would have thousands.</summary>
    public const int MostProblems = 50;

    private const string Name = "name";
    private static readonly string[] OfCars = ["make", "model", "modelYear", "vin", "registration", "odometerKm"];

    /// <summary>Heads of the columns; <c>name</c> is needed, the others may be left out. Lines of an address stand below each other in their cell.</summary>
    public static IReadOnlyList<string> Columns { get; } =
    [Name, "email", "phone", "address", "taxNumber", "language", .. OfCars];

    /// <summary>Reads a file's text.</summary>
    /// <returns>The customers in the order of the file, or what is wrong, each with its row.</returns>
    public static Outcome<IReadOnlyList<SheetCustomer>> Read(string text)
    {
        if (!CsvText.Read(text, Largest).TryGet(out var lines, out var failure))
        {
            return failure;
        }

        var errors = new FieldErrors();
        var heads = HeadsOf(lines, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var rows = lines.Skip(1).Where(l => l.Cells.Any(c => !string.IsNullOrWhiteSpace(c))).ToList();
        errors.AddIf(rows.Count == 0, "row 2", "There is no row below the heads.");
        errors.AddIf(rows.Count > MostRows, "rows", $"At most {MostRows} rows are read at once; part the file.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var found =
            new Dictionary<
                (string, string, string),
                (int Row, CustomerDetails Details, List<(int, CarDetails)> Cars)
            >();
        foreach (var row in rows)
        {
            if (row.Cells.Count > heads.Count)
            {
                errors.Add(
                    $"row {row.Number}",
                    $"Row {row.Number} has {row.Cells.Count} cells, but there are {heads.Count} columns. A text with a comma stands in double quotes."
                );
                continue;
            }

            string? Cell(string column) => CellOf(row, heads, column);
            var customer = new CustomerDetails(
                Cell(Name),
                Cell("address")?.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries),
                Cell("email"),
                Cell("phone"),
                Cell("taxNumber"),
                Language: Cell("language")
            );
            var key = KeyOf(customer.Name, customer.Email, customer.Phone);
            if (!found.TryGetValue(key, out var known))
            {
                found[key] = known = (row.Number, customer, []);
            }

            if (OfCars.Any(c => Cell(c) is not null))
            {
                known.Cars.Add(
                    (
                        row.Number,
                        new CarDetails(
                            Cell("make"),
                            Cell("model"),
                            Number(row.Number, "modelYear", Cell("modelYear"), errors),
                            Cell("vin"),
                            Cell("registration"),
                            Number(row.Number, "odometerKm", Cell("odometerKm"), errors)
                        )
                    )
                );
            }
        }

        return errors.Any
            ? errors.ToFailure()
            : found.Values.Select(c => new SheetCustomer(c.Row, c.Details, c.Cars)).ToList();
    }

    /// <summary>By what two customers are taken for one: large and small letters and the way a number is grouped make no difference.</summary>
    public static (string Name, string Email, string Phone) KeyOf(string? name, string? email, string? phone) =>
        (
            (name ?? "").Trim().ToUpperInvariant(),
            (email ?? "").Trim().ToUpperInvariant(),
            string.Concat((phone ?? "").Where(c => char.IsAsciiDigit(c) || c == '+'))
        );

    private static List<string> HeadsOf(IReadOnlyList<CsvLine> lines, FieldErrors errors)
    {
        var heads = lines.Count == 0 ? [] : lines[0].Cells.Select(c => c.Trim()).ToList();
        if (heads.Count == 1 && heads[0].AsSpan().IndexOfAny(';', '\t') >= 0)
        {
            errors.Add("row 1", "The cells of this file are not parted by commas; save it as CSV with commas.");
            return heads;
        }

        errors.AddIf(
            !heads.Contains(Name),
            "row 1",
            $"The first row holds the heads of the columns, and one is \"{Name}\"."
        );
        foreach (var head in heads.Where(h => !Columns.Contains(h)).Take(MostProblems))
        {
            errors.Add(
                "row 1",
                $"There is no column \"{(head.Length > 40 ? head[..40] : head)}\"; known are {string.Join(", ", Columns)}."
            );
        }

        errors.AddIf(
            heads.Distinct(StringComparer.Ordinal).Count() != heads.Count,
            "row 1",
            "A column is given twice."
        );
        return heads;
    }

    private static string? CellOf(CsvLine row, List<string> heads, string column)
    {
        var index = heads.IndexOf(column);
        var text = index >= 0 && index < row.Cells.Count ? CsvText.Unguard(row.Cells[index]).Trim() : "";
        return text.Length == 0 ? null : text;
    }

    private static int? Number(int row, string column, string? text, FieldErrors errors)
    {
        if (text is null)
        {
            return null;
        }

        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            return number;
        }

        errors.Add($"row {row}, {column}", $"Row {row}: {column} is a whole number, without points or blanks.");
        return null;
    }
}
