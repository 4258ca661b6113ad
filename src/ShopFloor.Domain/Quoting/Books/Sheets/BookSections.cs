using static ShopFloor.Domain.Quoting.BookFields;

namespace ShopFloor.Domain.Quoting;

/// <summary>Every field of the price book with its words: the one list from which forms, comparisons and CSV files are made. A test holds it against the records themselves.</summary>
public static class BookSections
{
    /// <summary>Say which edition a book is, not what is in it; compared and edited nowhere.</summary>
    public static IReadOnlyList<string> Identity { get; } = ["edition", "effectiveFrom"];

    /// <summary>Inner objects of the book that are left out where all their fields and tables are blank.</summary>
    public static IReadOnlyList<string> OptionalParts { get; } = ["minimum", "freight"];

    private static readonly BookTable AddedWork = new(
        "",
        "work",
        "Added work",
        "added work",
        ["operationCode", "standardCode"],
        [
            Text("operationCode", "operation", hint: "Number of an operation on the route."),
            Reference("standardCode", "labour standard", "standards"),
            Number("quantity", "quantity", blank: "1", hint: "Units of the standard."),
            Reference("skill", "skill", "skills", isOptional: true),
        ]
    );

    public static IReadOnlyList<BookSection> All { get; } =
    [
        new(
            "terms",
            "Terms",
            "What holds for every quote: rounding, deposit, validity, how sure the shop wants to be of its hours.",
            [
                TitleField,
                new("currencyCode", "currency", BookFieldKind.Code) { IsFixed = true },
                Flag("pricesIncludeTax", "prices include tax"),
                Choice("rounding", "rounding", ("halfUp", "half up"), ("halfEven", "half to even")),
                Choice("taxPer", "tax counted for", ("invoice", "the whole invoice"), ("line", "each line")),
                Number("deposit.percent", "deposit", "%"),
                Money("deposit.leastMinor", "least deposit", "0"),
                Flag("deposit.beforeStart", "work waits for the deposit"),
                Money("minimum.priceMinor", "minimum charge", isOptional: true),
                Taxes("minimum.taxCodes", "taxes on the minimum charge"),
                Number("marginTargetPercent", "margin aimed at", "%", "0"),
                Whole("validityDays", "quotes are valid for", "days"),
                Whole("promiseDays", "usual promise after sending", "days"),
                Number("wholeCarSpread", "whole-car spread", hint: "Deviation of a car's hours as a fraction, 0 to 1."),
                Whole("confidencePercent", "confidence of the hours", "%") with
                {
                    Choices = [.. new[] { "50", "80", "85", "90", "95" }.Select(c => new BookChoice(c, c))],
                },
            ],
            []
        ),
        Section(
            "Uses of a car",
            "What the car is for is asked before the kit.",
            new(
                "uses",
                "uses",
                "Uses",
                "use",
                ["code"],
                [CodeField, TitleField, Flag("needsRuleSet", "needs a rule set")]
            )
        ),
        Section(
            "Kits",
            "What the shop sells as one set, with its parts and welds.",
            new(
                "kits",
                "kits",
                "Kits",
                "kit",
                ["code"],
                [
                    CodeField,
                    TitleField,
                    Flag("hasDoorBars", "has door bars"),
                    Money("priceMinor", "price"),
                    Taxes(),
                    Money("labourPriceMinor", "labour price", "0"),
                    Taxes("labourTaxCodes", "taxes on labour"),
                    Cost("labourCostMinor", "labour cost"),
                    Texts("contents", "contents", "A sentence on each line, for the customer."),
                ]
            )
            {
                ParentColumn = "kit",
                Tables = [BookKitTables.Parts, BookKitTables.Welds],
            }
        ),
        Section(
            "Hinge options",
            "How a door bar opens; chosen for each door.",
            new(
                "hinge-options",
                "hingeOptions",
                "Hinge options",
                "hinge option",
                ["code"],
                [
                    CodeField,
                    TitleField,
                    Text("description", "description", isOptional: true) with
                    {
                        Blank = "",
                    },
                    Money("priceMinor", "price"),
                    Taxes(),
                    Cost(),
                    Number("insertLengthMm", "insert length", "mm", isOptional: true),
                    Number("bodyLengthMm", "body length", "mm", isOptional: true),
                    Number("clearanceMm", "clearance", "mm", isOptional: true),
                    Number("massKg", "mass", "kg", "0"),
                    Texts("hardware", "hardware"),
                ]
            )
            {
                ParentColumn = "hingeOption",
                Tables = [AddedWork with { Code = "hinge-work" }],
            }
        ),
        Section(
            "Skills",
            "What an hour costs the customer and the shop.",
            new(
                "skills",
                "skills",
                "Skills",
                "skill",
                ["code"],
                [
                    CodeField,
                    TitleField,
                    Money("rateMinorPerHour", "rate for an hour"),
                    Taxes(),
                    Cost("costMinorPerHour", "cost of an hour"),
                ]
            )
        ),
        Section(
            "Labour standards",
            "Minutes for one unit of work, before the car's condition is counted. Work in short runs leaves them at 0 and is timed by its runs.",
            BookLabourTables.Standards
        ),
        Section(
            "Condition",
            "What is asked about the car, and what each answer multiplies, adds and warns of.",
            BookLabourTables.Questions with
            {
                Tables = [BookLabourTables.Answers(AddedWork with { Code = "answer-work" })],
            }
        ),
        Section(
            "Consumables and paint",
            "Charged by the work they go with, or as a share of labour.",
            BookChargeTables.Materials
        ),
        Section("Work sent out", "Done elsewhere, such as coating or bending.", BookChargeTables.OutsideWork),
        new(
            "freight",
            "Freight",
            "Carriage by zone and mass. Leave everything blank where nothing is charged.",
            [
                Text("freight.title", "title"),
                Taxes("freight.taxCodes"),
                Reference(
                    "freight.fittedZoneCode",
                    "zone charged on cars fitted here",
                    "freight.zones",
                    isOptional: true
                ),
            ],
            [BookChargeTables.Zones]
        ),
        Section("Taxes", "Each tax with its rates by first day.", BookChargeTables.Taxes),
    ];

    public static BookSection? Find(string code) => All.FirstOrDefault(s => s.Code == code);

    /// <summary>Fields of the book itself, of all sections.</summary>
    public static IEnumerable<BookField> OwnFields => All.SelectMany(s => s.Fields);

    /// <summary>Tables of the book itself, of all sections.</summary>
    public static IEnumerable<BookTable> OwnTables => All.SelectMany(s => s.Tables);

    private static BookSection Section(string title, string about, BookTable table) =>
        new(table.Code, title, about, [], [table]);
}
