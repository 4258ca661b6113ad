using static ShopFloor.Domain.Quoting.BookFields;

namespace ShopFloor.Domain.Quoting;

/// <summary>Tables inside a kit.</summary>
internal static class BookKitTables
{
    internal static readonly BookTable Parts = new(
        "kit-parts",
        "parts",
        "Parts",
        "part",
        ["code"],
        [
            CodeField,
            TitleField,
            Choice("kind", "kind", ("tube", "tube"), ("plate", "plate"), ("hardware", "hardware")),
            Number("quantity", "pieces", blank: "1"),
            Cost(),
            Number("outsideDiameterMm", "outside diameter", "mm", isOptional: true),
            Number("wallMm", "wall", "mm", isOptional: true),
            Number("lengthMm", "length", "mm", isOptional: true),
            Number("widthMm", "width", "mm", isOptional: true),
            Number("thicknessMm", "thickness", "mm", isOptional: true),
            Text("material", "material", isOptional: true),
            Number("massKg", "stated mass", "kg", isOptional: true),
        ]
    );

    internal static readonly BookTable Welds = new(
        "kit-welds",
        "welds",
        "Welds",
        "weld",
        ["where"],
        [
            Text("where", "where"),
            Text("process", "process"),
            Text("position", "position"),
            Number("lengthMm", "length", "mm"),
        ]
    );
}

/// <summary>Labour standards and the questions that multiply them.</summary>
internal static class BookLabourTables
{
    internal static readonly BookTable Standards = new(
        "standards",
        "standards",
        "Labour standards",
        "labour standard",
        ["code"],
        [
            CodeField,
            TitleField,
            Text("unit", "unit"),
            Number("lowMinutes", "low", "min"),
            Number("likelyMinutes", "likely", "min"),
            Number("highMinutes", "high", "min"),
            Text("process", "process", isOptional: true),
            Text("position", "position", isOptional: true),
            Number("runs.runMm", "length of one short run", "mm"),
            Number("runs.arcSeconds.low", "arc, low", "s"),
            Number("runs.arcSeconds.likely", "arc, likely", "s"),
            Number("runs.arcSeconds.high", "arc, high", "s"),
            Number("runs.coolingSeconds.low", "cooling, low", "s"),
            Number("runs.coolingSeconds.likely", "cooling, likely", "s"),
            Number("runs.coolingSeconds.high", "cooling, high", "s"),
        ]
    )
    {
        OptionalParts = ["runs"],
    };

    internal static readonly BookTable Questions = new(
        "questions",
        "questions",
        "Questions",
        "question",
        ["code"],
        [CodeField, TitleField, Reference("default", "assumed answer", "answers")]
    )
    {
        ParentColumn = "question",
    };

    internal static BookTable Answers(BookTable work) =>
        new(
            "answers",
            "answers",
            "Answers",
            "answer",
            ["code"],
            [
                CodeField,
                TitleField,
                Texts("precautions", "precautions"),
                Flag("leavesTankFitted", "leaves the fuel tank fitted"),
                Texts("operations", "operations it needs", "Numbers of operations, one on each line."),
                Texts("gates", "gates", "What must be waited for, a sentence on each line."),
            ]
        )
        {
            ParentColumn = "answer",
            Tables =
            [
                new(
                    "answer-factors",
                    "factors",
                    "Factors",
                    "factor",
                    ["standardCode"],
                    [
                        Reference("standardCode", "labour standard", "standards"),
                        Number("multiplier", "multiplies by", hint: "0.1 to 10."),
                    ]
                ),
                work,
            ],
        };
}

/// <summary>Materials, outside work, freight and taxes.</summary>
internal static class BookChargeTables
{
    internal static readonly BookTable Materials = new(
        "materials",
        "materials",
        "Consumables and paint",
        "material",
        ["code"],
        [
            CodeField,
            TitleField,
            Choice("group", "group", ("consumables", "consumables"), ("paint", "paint")),
            Text("unit", "unit", hint: "What one priced unit is: m of weld, m²."),
            new("standardCodes", "goes with", BookFieldKind.References) { RefersTo = "standards", Blank = "" },
            Number("contentPerUnit", "work content in one unit", blank: "1"),
            Money("priceMinor", "price", "0"),
            Taxes(),
            Number("labourPercent", "share of labour", "%", isOptional: true, hint: "In place of a price per unit."),
            Cost(),
            Number("costPercent", "cost in percent of the price", "%", "0"),
        ]
    );

    internal static readonly BookTable OutsideWork = new(
        "outside-work",
        "outsideWork",
        "Work sent out",
        "work sent out",
        ["code"],
        [
            CodeField,
            TitleField,
            Money("priceMinor", "price"),
            Taxes(),
            Cost(),
            Whole("waitDays", "comes back after", "days"),
        ]
    );

    internal static readonly BookTable Zones = new(
        "freight-zones",
        "freight.zones",
        "Zones",
        "zone",
        ["code"],
        [CodeField, TitleField]
    )
    {
        ParentColumn = "zone",
        Tables =
        [
            new(
                "freight-bands",
                "bands",
                "Bands of mass",
                "band up to",
                ["upToKg"],
                [Number("upToKg", "up to", "kg"), Money("priceMinor", "price"), Cost()]
            ),
        ],
    };

    internal static readonly BookTable Taxes = new("taxes", "taxes", "Taxes", "tax", ["code"], [CodeField, TitleField])
    {
        ParentColumn = "tax",
        Tables =
        [
            new(
                "tax-rates",
                "rates",
                "Rates",
                "rate from",
                ["from"],
                [
                    new("from", "from", BookFieldKind.Day),
                    Number(
                        "ratePercent",
                        "rate",
                        "%",
                        isOptional: true,
                        hint: "Blank from the day on which it is no longer charged."
                    ),
                ]
            ),
        ],
    };
}
