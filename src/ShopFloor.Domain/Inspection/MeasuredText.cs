using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>Reads a measured value as it is typed, without rounding: <c>44.45</c>, <c>44,45 mm</c>, <c>1 3/4</c>, <c>1-3/4"</c>, <c>12.5°</c>.</summary>
/// <remarks>A figure without a unit is in the line's unit; a fraction without a unit is in inches where the line measures a length, since nobody reads millimetres in fractions. 1 in = 25.4 mm (international inch, 1959).</remarks>
public static class MeasuredText
{
    public const int LongestText = LengthText.LongestText;

    /// <summary>Tapes and callipers have halves to 128ths of an inch; 25.4 mm divided by these ends within eight decimals.</summary>
    public const int FinestFraction = 128;

    /// <summary>More decimals than any instrument in a shop shows.</summary>
    public const int MostTypedDecimals = 6;

    private const decimal MillimetresPerInch = 25.4m;

    /// <summary>The exact value in the line's unit; null with a sentence at <paramref name="path"/> where it is none.</summary>
    public static decimal? Read(string text, string unit, string path, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(errors);
        var line = LengthUnitOf(unit);
        var (bare, named) = line is null ? (WithoutUnit(text, unit), null) : LengthText.Unwrap(text);
        if (text.Length > LongestText || !LengthText.TrySplitFigure(bare, out var figure))
        {
            errors.Add(
                path,
                $"'{Shown(text)}' is no value in {unit}. Enter it like {(line is null ? "12.5" : "44.45, 44.45 mm, 1 3/4 in or 1-3/4\"")}."
            );
            return null;
        }

        var isFraction = figure.Under.Length > 0;
        if (Exact(figure) is not { } number)
        {
            errors.Add(
                path,
                isFraction
                    ? $"'{Shown(text)}' is on no tape: a fraction has halves, quarters and so on to {FinestFraction}ths."
                    : $"'{Shown(text)}' is finer than an instrument shows: at most {MostTypedDecimals} decimals, below {InspectionLine.LargestValue.ToString("N0", CultureInfo.InvariantCulture)}."
            );
            return null;
        }

        var typed = named ?? (isFraction && line is not null ? LengthUnit.Inch : line);
        var value = (typed, line) switch
        {
            (LengthUnit.Inch, LengthUnit.Millimetre) => number * MillimetresPerInch,
            (LengthUnit.Millimetre, LengthUnit.Inch) => number / MillimetresPerInch,
            _ => number,
        };
        return InspectionLine.Rounded(figure.IsNegative ? -value : value);
    }

    /// <summary>Null where the unit is none of length.</summary>
    public static LengthUnit? LengthUnitOf(string? unit) =>
        unit switch
        {
            "mm" => LengthUnit.Millimetre,
            "in" => LengthUnit.Inch,
            _ => null,
        };

    /// <summary>A half-width in one unit of length brought to another; null where the units have nothing to do with each other.</summary>
    public static decimal? InUnit(decimal value, string unit, string wanted) =>
        (LengthUnitOf(unit), LengthUnitOf(wanted)) switch
        {
            _ when unit == wanted => value,
            (LengthUnit.Inch, LengthUnit.Millimetre) => value * MillimetresPerInch,
            (LengthUnit.Millimetre, LengthUnit.Inch) => value / MillimetresPerInch,
            _ => null,
        };

    private static decimal? Exact(LengthText.TypedFigure figure)
    {
        if (figure.Under.Length == 0)
        {
            var point = figure.Number.IndexOf('.', StringComparison.Ordinal);
            return point >= 0 && figure.Number.Length - point - 1 > MostTypedDecimals ? null
                : decimal.TryParse(
                    figure.Number,
                    NumberStyles.AllowDecimalPoint,
                    CultureInfo.InvariantCulture,
                    out var number
                )
                && number <= InspectionLine.LargestValue
                    ? number
                : null;
        }

        var (over, under) = (Whole(figure.Over), Whole(figure.Under));
        return under > FinestFraction || (under & (under - 1)) != 0
            ? null
            : Whole(figure.Number) + ((decimal)over / under);

        static int Whole(string digits) => int.Parse(digits, CultureInfo.InvariantCulture);
    }

    private static string WithoutUnit(string text, string unit)
    {
        var bare = text.Trim();
        return unit.Length > 0 && bare.EndsWith(unit, StringComparison.OrdinalIgnoreCase) ? bare[..^unit.Length] : bare;
    }

    private static string Shown(string text) => text.Length <= LongestText ? text : text[..LongestText] + "…";
}
