using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting.Books;

/// <summary>A price book in which every field of every record holds something.</summary>
internal static class FullBook
{
    public static readonly Currency Euro = Currency.Of("EUR");

    public static PriceBook Book { get; } =
        TestBook.Book with
        {
            Deposit = new DepositRule(30, 5_000, BeforeStart: true),
            Minimum = new MinimumCharge(9_500, ["t"]),
            MarginTargetPercent = 25,
            Kits =
            [
                TestBook.Book.Kits[0] with
                {
                    LabourPriceMinor = 12_000,
                    LabourTaxCodes = ["t"],
                    LabourCostMinor = 7_000,
                    Parts =
                    [
                        new("hoop", "Main hoop", KitPartKind.Tube, 1, 9_600)
                        {
                            OutsideDiameterMm = 45,
                            WallMm = 2.5m,
                            LengthMm = 3_800,
                            WidthMm = 1,
                            ThicknessMm = 2,
                            Material = "seamless",
                            MassKg = 9.5m,
                        },
                    ],
                    Welds = [new("Feet, all round", "gmaw", "flat", 900)],
                },
                TestBook.Book.Kits[1],
            ],
            HingeOptions =
            [
                TestBook.Book.HingeOptions[0],
                TestBook.Book.HingeOptions[1] with
                {
                    InsertLengthMm = 50,
                    BodyLengthMm = 80,
                    ClearanceMm = 10,
                    Hardware = ["hinge body", "pin"],
                    MassKg = 1.4m,
                    CostMinor = 4_200,
                    Work = [new("220", "seam-m", 2, "welder")],
                },
            ],
            Skills = [.. TestBook.Book.Skills.Select(s => s with { CostMinorPerHour = 3_900 })],
            Standards =
            [
                .. TestBook.Book.Standards,
                new LabourStandard("thin", "Weld on thin floor", "mm", 0, 0, 0)
                {
                    Process = "gmaw",
                    Position = "flat",
                    Runs = new ShortRuns(9.5m, new(1.5m, 2, 3), new(15, 25, 45)),
                },
            ],
            Questions =
            [
                .. TestBook.Book.Questions,
                new(
                    "tank",
                    "Fuel tank",
                    "out",
                    [
                        new("out", "out", [], []),
                        new("stays", "stays fitted", [new("seam-m", 1.6m)], ["A qualified person looks first."])
                        {
                            LeavesTankFitted = true,
                            Operations = ["25"],
                            Gates = ["No heat before the tank was assessed."],
                            Work = [new("170", "seam-m", 4, "fitter")],
                        },
                    ]
                ),
            ],
            Materials =
            [
                TestBook.Book.Materials[0] with
                {
                    CostMinor = 430,
                    CostPercent = 5,
                },
                new("small", "Small stuff", MaterialGroup.Paint, "share", [], 1, 0, ["t"]) { LabourPercent = 3 },
            ],
            OutsideWork = [new("coat", "Powder coating", 24_500, 17_000, 5, ["t"])],
            Freight = new Freight(
                "Carriage",
                [
                    new("inland", "inland", [new(15, 2_400, 1_700), new(35, 4_900, 3_600)]),
                    new("abroad", "abroad", [new(15, 5_200, 3_900)]),
                ],
                ["t"],
                "inland"
            ),
            Taxes =
            [
                new("t", "Tax", [new(new DateOnly(2020, 1, 1), 10), new(new DateOnly(2030, 1, 1), null)]),
                new("u", "Other tax", [new(new DateOnly(2020, 1, 1), 5.5m)]),
            ],
        };

    public static string JsonOf(PriceBook book) =>
        JsonSerializer.Serialize(book with { Edition = 0, EffectiveFrom = default }, RuleSetJson);

    public static PriceBook Read(BookRow row)
    {
        var (book, errors) = BookRows.Read(row, Euro);
        Assert.True(errors.Count == 0, string.Join("; ", errors.Select(e => $"{e.Path}: {e.Text}")));
        return book!;
    }

    /// <summary>Every cell of the rows: the row, its field, and whether the field tells entries apart.</summary>
    public static IEnumerable<(BookRow Row, BookField Field, bool IsKey, string Path)> Cells(BookRow root) =>
        BookSections
            .OwnFields.Where(f => !f.IsFixed)
            .Select(f => (root, f, false, f.Name))
            .Concat(BookSections.OwnTables.SelectMany(t => Cells(root, t, "")));

    private static IEnumerable<(BookRow, BookField, bool, string)> Cells(
        BookRow holder,
        BookTable table,
        string path
    ) =>
        holder
            .Rows(table)
            .SelectMany(row =>
                table
                    .Fields.Where(f => !IsLeftOut(row, table, f))
                    .Select(f =>
                        (row, f, table.Key.Contains(f.Name), $"{path}{table.Name}[{row.KeyIn(table)}].{f.Name}")
                    )
                    .Concat(table.Tables.SelectMany(t => Cells(row, t, $"{path}{table.Name}[{row.KeyIn(table)}].")))
            );

    /// <summary>A field of an inner object that the record does not have: none of its fields can be given alone.</summary>
    private static bool IsLeftOut(BookRow row, BookTable table, BookField field) =>
        table.OptionalParts.Any(p =>
            field.Name.StartsWith(p + ".", StringComparison.Ordinal)
            && table
                .Fields.Where(f => f.Name.StartsWith(p + ".", StringComparison.Ordinal))
                .All(f => string.IsNullOrEmpty(row[f]))
        );

    /// <summary>Another text that the field can hold.</summary>
    public static string Other(BookField field, string? text) =>
        field.Kind switch
        {
            BookFieldKind.Money => text == "77.07" ? "66.06" : "77.07",
            BookFieldKind.Number => text == "7.125" ? "6.5" : "7.125",
            BookFieldKind.Whole => text == "90" ? "95" : "90",
            BookFieldKind.Flag => text == "yes" ? "no" : "yes",
            BookFieldKind.Choice => field.Choices.First(c => c.Code != text).Code,
            BookFieldKind.Day => text == "2025-07-01" ? "2026-07-01" : "2025-07-01",
            BookFieldKind.Texts or BookFieldKind.References => text + "\none more",
            _ => text + "x",
        };

    private static readonly JsonSerializerOptions RuleSetJson = Domain.RuleSets.DataFiles.Json;
}
