using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Reads the kind of sale and what is priced beside kit, doors and condition.</summary>
public static class QuoteExtrasReader
{
    private const int MostCodes = PriceBookRules.MostEntries;

    internal static SaleKind Kind(string? text, FieldErrors errors)
    {
        SaleKind? kind = text switch
        {
            null or "fitted" => SaleKind.Fitted,
            "shipped" => SaleKind.Shipped,
            "bench" => SaleKind.Bench,
            "returnVisit" => SaleKind.ReturnVisit,
            _ => null,
        };
        errors.AddIf(kind is null, "kind", "A sale is 'fitted', 'shipped', 'bench' or 'returnVisit'.");
        return kind ?? SaleKind.Fitted;
    }

    /// <summary>The word that <see cref="Kind"/> reads.</summary>
    public static string Word(SaleKind kind) =>
        kind switch
        {
            SaleKind.Shipped => "shipped",
            SaleKind.Bench => "bench",
            SaleKind.ReturnVisit => "returnVisit",
            _ => "fitted",
        };

    internal static IReadOnlyList<BenchItem> Bench(QuoteRequest request, FieldErrors errors)
    {
        var given = request.Bench ?? [];
        var items = new List<BenchItem>();
        errors.AddIf(
            given.Count > PriceExtras.MostLines,
            "bench",
            $"At most {PriceExtras.MostLines} pieces of work are taken."
        );
        for (var i = 0; i < given.Count && i < PriceExtras.MostLines; i++)
        {
            var path = $"bench[{i}]";
            items.Add(
                new BenchItem(
                    TextRules.Required(given[i]?.Skill, path + ".skill", "The skill", TextRules.Code, errors),
                    TextRules.Required(
                        given[i]?.StandardCode,
                        path + ".standardCode",
                        "The labour standard",
                        TextRules.Code,
                        errors
                    ),
                    given[i]?.Quantity ?? 0
                )
            );
            TotalsRules.CheckQuantity(given[i]?.Quantity ?? 0, path + ".quantity", errors);
        }

        return items;
    }

    internal static PriceExtras Read(QuoteRequest request, PriceBook book, FieldErrors errors)
    {
        var given = request.Lines ?? [];
        errors.AddIf(
            given.Count > PriceExtras.MostLines,
            "lines",
            $"{given.Count} own lines were given; at most {PriceExtras.MostLines} are taken."
        );
        return new PriceExtras(
            [.. given.Take(PriceExtras.MostLines).Select((line, i) => Line(line, i, book, errors))],
            Codes(request.OutsideWorkCodes, "outsideWorkCodes", "The outside work", MostCodes, errors),
            TextRules.Optional(request.FreightZoneCode, "freightZoneCode", "The freight zone", TextRules.Code, errors),
            request.FreightMassKg,
            Codes(request.DiscountLineCodes, "discountLineCodes", "The line", MostCodes, errors),
            TextRules.Optional(request.FreeReason, "freeReason", "The reason", TextRules.ShortText, errors)
        );
    }

    /// <summary>A list of codes, each checked at its own path.</summary>
    internal static List<string> Codes(
        IReadOnlyList<string?>? given,
        string path,
        string label,
        int most,
        FieldErrors errors
    )
    {
        errors.AddIf(given?.Count > most, path, $"At most {most} entries are taken.");
        return
        [
            .. (given ?? [])
                .Take(most)
                .Select((code, i) => TextRules.Required(code, $"{path}[{i}]", label, TextRules.Code, errors)),
        ];
    }

    private static ExtraLine Line(LineRequest? line, int i, PriceBook book, FieldErrors errors)
    {
        var path = $"lines[{i}]";
        errors.AddIf(line?.UnitPriceMinor is null, path + ".unitPriceMinor", "The unit price is needed.");
        errors.AddIf(line?.Quantity is null, path + ".quantity", "The quantity is needed.");
        return new ExtraLine(
            TextRules.Required(
                line?.Description,
                path + ".description",
                "The description of the line",
                TextRules.ShortText,
                errors
            ),
            line?.Quantity ?? 1,
            TextRules.Optional(line?.Unit, path + ".unit", "The unit", TextRules.Code, errors) ?? "piece",
            line?.UnitPriceMinor ?? 0,
            Codes(line?.TaxCodes, path + ".taxCodes", "The tax", book.Taxes.Count, errors),
            line?.UnitCostMinor
        );
    }
}
