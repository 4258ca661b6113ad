using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace ShopFloor.Web.Features.Shared;

/// <summary>Reads and writes plain figures as people type them; the grammar is that of <see cref="NumberText"/>.</summary>
public static class NumberWords
{
    /// <summary>Reads a figure; blank is null.</summary>
    public static bool TryRead(
        string? text,
        int mostDecimals,
        CultureInfo culture,
        out decimal? number,
        [NotNullWhen(false)] out string? sentence,
        bool mayBeNegative = false
    )
    {
        sentence = NumberText.Read(text, mostDecimals, culture, out number, mayBeNegative) switch
        {
            NumberReading.Fine => null,
            NumberReading.TooManyDecimals or NumberReading.NoNumber when mostDecimals == 0 =>
                $"'{text}' is no whole number; write digits alone, such as 1250.",
            NumberReading.TooManyDecimals =>
                $"'{text}' has more than {mostDecimals} digits after the point; give fewer.",
            NumberReading.Ambiguous => Ambiguous(text),
            _ => $"'{text}' is no number; write it as 1250 or 12.5.",
        };
        return sentence is null;
    }

    /// <summary>Plain, without grouping and zeros at the end, so that it can be typed over.</summary>
    public static string Write(decimal number) => number.ToString("0.######", CultureInfo.CurrentCulture);

    internal static string Ambiguous(string? text) =>
        $"'{text}' can be read in two ways. Leave the sign out for thousands, or end with a further digit for decimals.";
}
