using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

/// <summary>Lengths and angles as cards print them.</summary>
internal static class Figures
{
    /// <summary>Millimetres to a tenth with the nearest sixteenth of an inch.</summary>
    public static string Length(Sheet sheet, double millimetres) =>
        $"{millimetres.ToString("0.0", sheet.Culture)} mm · {FractionalInches.Nearest(millimetres, 16)}";

    public static string Degrees(Sheet sheet, double degrees) => degrees.ToString("0.0", sheet.Culture) + "°";
}
