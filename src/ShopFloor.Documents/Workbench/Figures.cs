using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

/// <summary>Lengths and angles as cards print them.</summary>
internal static class Figures
{
    /// <summary>Millimetres to a tenth with the nearest mark of an inch tape.</summary>
    public static string Length(Sheet sheet, WorkbenchHead head, double millimetres) =>
        $"{millimetres.ToString("0.0", sheet.Culture)} mm · {FractionalInches.Nearest(millimetres, head.Divisions)}";

    public static string Degrees(Sheet sheet, double degrees) => degrees.ToString("0.0", sheet.Culture) + "°";
}
