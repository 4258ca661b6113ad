using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Checks what is priced beside kit, doors and the route's work.</summary>
internal static class ExtraRules
{
    internal static void Check(PriceBook book, PriceInput input, FieldErrors errors)
    {
        var extras = input.Extras;
        errors.AddIf(
            extras.Lines.Count > PriceExtras.MostLines,
            "lines",
            $"{extras.Lines.Count} own lines were given; at most {PriceExtras.MostLines} are taken."
        );
        for (var i = 0; i < extras.Lines.Count && i < PriceExtras.MostLines; i++)
        {
            CheckLine(book, extras.Lines[i], PathOf(i), errors);
        }

        for (var i = 0; i < extras.OutsideWorkCodes.Count; i++)
        {
            var code = extras.OutsideWorkCodes[i];
            errors.AddIf(
                book.FindOutsideWork(code) is null,
                $"outsideWorkCodes[{i}]",
                $"There is no outside work '{code}'; choose one of: {PriceInputRules.Codes(book.OutsideWork.Select(o => o.Code))}."
            );
            errors.AddIf(
                extras.OutsideWorkCodes.Take(i).Contains(code, StringComparer.Ordinal),
                $"outsideWorkCodes[{i}]",
                $"The outside work '{code}' is named twice; name it once."
            );
        }

        CheckFreight(book, input, errors);
        errors.AddIf(
            extras.FreeReason is not null && input.Scope.Kind != SaleKind.ReturnVisit,
            "freeReason",
            "Only a return visit can be priced at nothing with a reason; give a discount instead."
        );
        errors.AddIf(
            extras.FreeReason is not null && input.Discount is not { Percent: null, Minor: null },
            "freeReason",
            "A return visit that costs nothing needs no discount; take one of them out."
        );
    }

    /// <summary>The paths of the first own lines, which every answer at the counter would put together again.</summary>
    private static readonly LinePaths[] FirstPaths = [.. Enumerable.Range(0, 64).Select(LinePaths.Of)];

    private static LinePaths PathOf(int i) => i < FirstPaths.Length ? FirstPaths[i] : LinePaths.Of(i);

    private static void CheckLine(PriceBook book, ExtraLine line, LinePaths path, FieldErrors errors)
    {
        TextRules.Required(
            line.Description,
            path.Description,
            "The description of the line",
            TextRules.ShortText,
            errors
        );
        TextRules.Required(line.Unit, path.Unit, "The unit", TextRules.Code, errors);
        TotalsRules.CheckQuantity(line.Quantity, path.Quantity, errors);
        TotalsRules.CheckAmount(line.UnitPriceMinor, path.UnitPriceMinor, "The unit price", errors);
        TotalsRules.CheckAmount(line.UnitCostMinor ?? 0, path.UnitCostMinor, "The unit cost", errors);
        CheckProduct(line.Quantity, line.UnitPriceMinor, path.UnitPriceMinor, "price", errors);
        CheckProduct(line.Quantity, line.UnitCostMinor ?? 0, path.UnitCostMinor, "cost", errors);
        for (var j = 0; j < line.TaxCodes.Count; j++)
        {
            errors.AddIf(
                book.FindTax(line.TaxCodes[j]) is null,
                $"{path.Line}.taxCodes[{j}]",
                $"There is no tax '{line.TaxCodes[j]}'; choose one of: {PriceInputRules.Codes(book.Taxes.Select(t => t.Code))}."
            );
            errors.AddIf(
                line.TaxCodes.Take(j).Contains(line.TaxCodes[j], StringComparer.Ordinal),
                $"{path.Line}.taxCodes[{j}]",
                $"The tax '{line.TaxCodes[j]}' is named twice on this line; name it once."
            );
        }
    }

    private static void CheckProduct(decimal quantity, long minor, string path, string what, FieldErrors errors) =>
        errors.AddIf(
            TotalsRules.IsQuantity(quantity)
                && TotalsRules.IsAmount(minor)
                && quantity * minor > TotalsRules.LargestMinor,
            path,
            $"Quantity times {what} is more than can be added up; check both."
        );

    private static void CheckFreight(PriceBook book, PriceInput input, FieldErrors errors)
    {
        var (extras, kind) = (input.Extras, input.Scope.Kind);
        if (extras.FreightMassKg is <= 0 or > PriceExtras.LargestMassKg)
        {
            errors.Add("freightMassKg", $"The mass is over 0 and at most {PriceExtras.LargestMassKg} kg.");
            return;
        }

        if ((extras.FreightZoneCode ?? FreightMass.FittedZone(book, input)) is not { } code)
        {
            errors.AddIf(
                kind == SaleKind.Shipped && book.Freight is not null,
                "freightZoneCode",
                $"Say where the kit is sent: {PriceInputRules.Codes((book.Freight?.Zones ?? []).Select(z => z.Code))}."
            );
            return;
        }

        if (book.Freight?.FindZone(code) is not { } zone)
        {
            errors.Add(
                "freightZoneCode",
                $"There is no freight zone '{code}'; choose one of: {PriceInputRules.Codes((book.Freight?.Zones ?? []).Select(z => z.Code))}."
            );
            return;
        }

        var mass = FreightMass.Of(book, input);
        errors.AddIf(
            mass == 0 && extras.FreightZoneCode is not null,
            "freightMassKg",
            "Say how heavy the parcel is; nothing here has a known mass."
        );
        errors.AddIf(
            zone.BandFor(mass) is null,
            "freightZoneCode",
            $"{decimal.Round(mass, 1)} kg is more than the price book carries to {zone.Title}; agree the freight as a line of its own, or have the owner add a band."
        );
    }
}

/// <summary>Where the fields of one own line stand in the input.</summary>
internal sealed record LinePaths(
    string Line,
    string Description,
    string Unit,
    string Quantity,
    string UnitPriceMinor,
    string UnitCostMinor
)
{
    internal static LinePaths Of(int i)
    {
        var line = $"lines[{i}]";
        return new(
            line,
            line + ".description",
            line + ".unit",
            line + ".quantity",
            line + ".unitPriceMinor",
            line + ".unitCostMinor"
        );
    }
}

/// <summary>What is carried: its mass, and where to where nobody said.</summary>
internal static class FreightMass
{
    /// <summary>The book's zone for the material of a car that is fitted here; null for other sales and where the book has none.</summary>
    internal static string? FittedZone(PriceBook book, PriceInput input) =>
        input.Scope.Kind == SaleKind.Fitted ? book.Freight?.FittedZoneCode : null;

    /// <summary>As stated, else kit and hinges, in kg; 0 where nothing is known.</summary>
    internal static decimal Of(PriceBook book, PriceInput input) =>
        input.Extras.FreightMassKg
        ?? (input.Scope.KitCode is { } kit ? book.FindKit(kit)?.MassKg ?? 0 : 0)
            + input.Scope.Doors.Sum(d => book.FindHinge(d.HingeOptionCode)?.MassKg ?? 0);
}
