using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Checks materials, outside work, freight and taxes.</summary>
internal static class ChargeRules
{
    internal static void Check(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Materials.Count; i++)
        {
            CheckMaterial(book, book.Materials[i], $"materials[{i}]", errors);
        }

        for (var i = 0; i < book.OutsideWork.Count; i++)
        {
            var (work, path) = (book.OutsideWork[i], $"outsideWork[{i}]");
            TotalsRules.CheckAmount(work.CostMinor, path + ".costMinor", "The cost", errors);
            errors.AddIf(work.WaitDays is < 0 or > 365, path + ".waitDays", "Outside work takes 0 to 365 days.");
        }

        if (book.Freight is { } freight)
        {
            CheckFreight(freight, errors);
        }

        for (var i = 0; i < book.Taxes.Count; i++)
        {
            CheckTax(book.Taxes[i], $"taxes[{i}].rates", errors);
        }
    }

    private static void CheckMaterial(PriceBook book, Material material, string path, FieldErrors errors)
    {
        TotalsRules.CheckAmount(material.CostMinor, path + ".costMinor", "The cost", errors);
        TotalsRules.CheckPercent(material.CostPercent, path + ".costPercent", "The cost", errors);
        if (material.LabourPercent is { } percent)
        {
            TotalsRules.CheckPercent(percent, path + ".labourPercent", "The share of labour", errors);
            errors.AddIf(percent == 0, path + ".labourPercent", "The share of labour must be over 0 %.");
            errors.AddIf(
                material.StandardCodes.Count > 0 || material.PriceMinor > 0,
                path + ".labourPercent",
                "A material is charged by work content or as a share of labour, not both."
            );
            return;
        }

        errors.AddIf(
            material.StandardCodes.Count == 0 || material.StandardCodes.Any(c => book.FindStandard(c) is null),
            path + ".standardCodes",
            "A material names the labour standards whose work content it goes with."
        );
        PriceBookRules.CheckCount(material.StandardCodes.Count, path + ".standardCodes", errors);
        errors.AddIf(
            material.ContentPerUnit is < 0.001m or > 1_000_000,
            path + ".contentPerUnit",
            "Work content in one priced unit is from 0.001 to 1,000,000."
        );
    }

    private static void CheckFreight(Freight freight, FieldErrors errors)
    {
        TextRules.Required(freight.Title, "freight.title", "The title", TextRules.Name, errors);
        PriceBookRules.CheckCodes(freight.Zones.Select(z => (z.Code, z.Title)), "freight.zones", 1, errors);
        errors.AddIf(
            freight.FittedZoneCode is { } fitted && freight.FindZone(fitted) is null,
            "freight.fittedZoneCode",
            $"There is no freight zone '{freight.FittedZoneCode}' in this book."
        );
        for (var i = 0; i < freight.Zones.Count; i++)
        {
            var (bands, path) = (freight.Zones[i].Bands, $"freight.zones[{i}].bands");
            errors.AddIf(
                bands.Count is 0 or > PriceBookRules.MostEntries,
                path,
                $"A zone has 1 to {PriceBookRules.MostEntries} bands of mass."
            );
            for (var j = 0; j < bands.Count; j++)
            {
                TotalsRules.CheckAmount(bands[j].PriceMinor, $"{path}[{j}].priceMinor", "The price", errors);
                TotalsRules.CheckAmount(bands[j].CostMinor, $"{path}[{j}].costMinor", "The cost", errors);
                errors.AddIf(
                    bands[j].UpToKg is <= 0 or > PriceExtras.LargestMassKg
                        || (j > 0 && bands[j].UpToKg <= bands[j - 1].UpToKg),
                    $"{path}[{j}].upToKg",
                    $"Masses rise from band to band, over 0 and at most {PriceExtras.LargestMassKg} kg."
                );
            }
        }
    }

    private static void CheckTax(BookTax tax, string path, FieldErrors errors)
    {
        errors.AddIf(
            tax.Rates.Count is 0 or > PriceBookRules.MostEntries,
            path,
            $"'{tax.Code}' needs 1 to {PriceBookRules.MostEntries} rates, each with its first day."
        );
        for (var i = 0; i < tax.Rates.Count; i++)
        {
            if (tax.Rates[i].RatePercent is { } rate)
            {
                TotalsRules.CheckPercent(rate, $"{path}[{i}].ratePercent", "The rate", errors);
            }

            errors.AddIf(
                i > 0 && tax.Rates[i].From <= tax.Rates[i - 1].From,
                $"{path}[{i}].from",
                "Rates stand in the order of their first days, each day once."
            );
        }
    }
}
