using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The limits within which amounts are added up; outside them the answer is a sentence at the field.</summary>
public static class TotalsRules
{
    /// <summary>The largest integer every JSON reader keeps exactly (IEEE 754 double), 2⁵³ − 1.</summary>
    public const long LargestMinor = 9_007_199_254_740_991;
    public const decimal LargestQuantity = 1_000_000;
    public const int QuantityDecimals = 6;
    public const int RateDecimals = 4;
    public const int MostLines = 10_000;
    public const int MostTaxes = 1_000;

    internal static void Check(TotalsRequest request, FieldErrors errors)
    {
        errors.AddIf(request.Lines.Count == 0, "lines", "At least one line is needed.");
        errors.AddIf(
            request.Lines.Count > MostLines,
            "lines",
            $"{request.Lines.Count} lines were given; at most {MostLines} are added up."
        );
        errors.AddIf(
            request.Taxes.Count > MostTaxes,
            "taxes",
            $"{request.Taxes.Count} taxes were given; at most {MostTaxes} are taken."
        );
        if (errors.Any)
        {
            return;
        }

        var codes = CheckTaxes(request.Taxes, errors);
        for (var i = 0; i < request.Lines.Count; i++)
        {
            CheckLine(request.Lines[i], i, codes, errors);
        }

        CheckDiscount(request.Discount, errors);
        CheckAmount(request.TradeCreditMinor, "tradeCreditMinor", "The trade credit", errors);
    }

    /// <summary>Checks a percentage: 0 to 100, up to 4 decimals.</summary>
    public static void CheckPercent(decimal percent, string path, string label, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        errors.AddIf(percent is < 0 or > 100, path, $"{label} is {percent} %; it must be from 0 to 100.");
        errors.AddIf(
            percent is >= 0 and <= 100 && decimal.Round(percent, RateDecimals) != percent,
            path,
            $"{label} has more than {RateDecimals} decimals; give it with at most {RateDecimals}."
        );
    }

    /// <summary>Whether a quantity can be taken: over 0, at most 10⁶, up to 6 decimals.</summary>
    public static bool IsQuantity(decimal quantity) => IsQuantityInRange(quantity) && HasFewDecimals(quantity);

    /// <summary>Whether an amount of minor units can be taken: 0 to 2⁵³ − 1.</summary>
    public static bool IsAmount(long minor) => minor is >= 0 and <= LargestMinor;

    /// <summary>Says what is wrong with a quantity; see <see cref="IsQuantity"/>.</summary>
    public static void CheckQuantity(decimal quantity, string path, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        errors.AddIf(
            !IsQuantityInRange(quantity),
            path,
            $"The quantity is {quantity}; it must be over 0 and at most {LargestQuantity}."
        );
        errors.AddIf(
            IsQuantityInRange(quantity) && !HasFewDecimals(quantity),
            path,
            $"The quantity has more than {QuantityDecimals} decimals; give it with at most {QuantityDecimals}."
        );
    }

    /// <summary>Says what is wrong with an amount; see <see cref="IsAmount"/>.</summary>
    public static void CheckAmount(long minor, string path, string label, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        errors.AddIf(minor < 0, path, $"{label} is negative; give 0 or more.");
        errors.AddIf(minor > LargestMinor, path, $"{label} is too large; at most {LargestMinor} minor units are kept.");
    }

    private static bool IsQuantityInRange(decimal quantity) => quantity is > 0 and <= LargestQuantity;

    private static bool HasFewDecimals(decimal quantity) => decimal.Round(quantity, QuantityDecimals) == quantity;

    private static HashSet<string> CheckTaxes(IReadOnlyList<TaxRate> taxes, FieldErrors errors)
    {
        var codes = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < taxes.Count; i++)
        {
            TextRules.Required(taxes[i].Code, $"taxes[{i}].code", "The tax code", TextRules.Code, errors);
            errors.AddIf(
                !codes.Add(taxes[i].Code),
                $"taxes[{i}].code",
                $"The tax '{taxes[i].Code}' is listed twice; list each tax once."
            );
            CheckPercent(taxes[i].RatePercent, $"taxes[{i}].ratePercent", "The rate", errors);
        }

        return codes;
    }

    private static void CheckLine(TotalsLine line, int index, HashSet<string> codes, FieldErrors errors)
    {
        errors.AddIf(
            line.Description.Length > TextRules.ShortText,
            $"lines[{index}].description",
            $"The description has {line.Description.Length} characters; at most {TextRules.ShortText} are kept."
        );
        if (!IsQuantity(line.Quantity))
        {
            CheckQuantity(line.Quantity, $"lines[{index}].quantity", errors);
        }

        if (!IsAmount(line.UnitPriceMinor))
        {
            CheckAmount(line.UnitPriceMinor, $"lines[{index}].unitPriceMinor", "The unit price", errors);
        }

        for (var j = 0; j < line.TaxCodes.Count; j++)
        {
            var code = line.TaxCodes[j];
            errors.AddIf(
                !codes.Contains(code),
                $"lines[{index}].taxCodes[{j}]",
                $"There is no tax '{code}' in the list of taxes; add it there with its rate."
            );
            errors.AddIf(
                j > 0 && line.TaxCodes.Take(j).Contains(code, StringComparer.Ordinal),
                $"lines[{index}].taxCodes[{j}]",
                $"The tax '{code}' is named twice on this line; name it once."
            );
        }
    }

    private static void CheckDiscount(Discount discount, FieldErrors errors)
    {
        errors.AddIf(
            discount is { Percent: not null, Minor: not null },
            "discountMinor",
            "A discount is either a percentage or an amount; leave one of them out."
        );
        if (discount.Percent is { } percent)
        {
            CheckPercent(percent, "discountPercent", "The discount", errors);
        }

        if (discount.Minor is { } minor)
        {
            CheckAmount(minor, "discountMinor", "The discount", errors);
        }
    }
}
