using System.Globalization;
using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Workbench;

/// <summary>The notch's wrap at 1:1: what to do first, then the wrap on as many sheets as it needs.</summary>
internal static class WrapWriter
{
    public const string FullSize =
        "Print at 100 %, never \"fit to page\". Hold a steel rule against the lines marked 100 mm and 4 in, lying and upright: "
        + "if one of them is off, the template is scrap and so is the tube.";

    private static readonly XPen Cut = new(XColors.Black, 0.7);
    private static readonly XPen Edge = new(XColors.Black, 0.4);
    private static readonly XPen Guide = Dashed(XDashStyle.Dash, 0.4);
    private static readonly XPen BendPlane = Dashed(XDashStyle.DashDot, 0.9);

    public static byte[] Write(WrapTemplate template, PaperSettings settings)
    {
        var tiles = WrapTiles.Of(template, settings.Size);
        if (tiles.Count > WrapLimits.MostSheets)
        {
            throw new ArgumentException($"The wrap takes {tiles.Count} sheets.", nameof(template));
        }

        var outline = new WrapOutline(template);
        using var sheet = new Sheet(
            settings,
            new SheetTitle(template.Head.ShopName, "Notch wrap", $"{template.Head.Tube} · {template.EndName}")
        );
        sheet.PrintAtFullSize();
        Words(sheet, template, tiles);
        foreach (var tile in tiles.Tiles)
        {
            var needed = Sheet.Mm(WrapTiles.BandMm + Math.Max(tile.Height, Rulers.InchesMm + 10));
            if (tile != tiles.Tiles[0] || sheet.Y + needed > sheet.Bottom)
            {
                sheet.NewPage();
            }

            Tile(sheet, template, outline, tiles, tile);
        }

        return sheet.Finish();
    }

    private static void Words(Sheet sheet, WrapTemplate template, WrapTiles tiles)
    {
        var culture = sheet.Culture;
        sheet.Y += sheet.DrawText(
            $"{template.Head.Tube}, {template.EndName}: notch wrap 1:1",
            TextStyle.Name,
            sheet.Left,
            sheet.Y,
            sheet.Width
        );
        if (template.Head.Reference is { } reference)
        {
            sheet.Paragraph($"{template.Head.ShopName} · {reference}", TextStyle.Small);
        }

        sheet.Space(1);
        Blocks.Facts(sheet, template.Facts);
        sheet.Space(1);
        sheet.Paragraph("⚠ " + FullSize, TextStyle.Strong);
        foreach (var warning in template.Warnings)
        {
            sheet.Paragraph("⚠ " + warning, TextStyle.Strong);
        }

        sheet.Space(1);
        string[] steps =
        [
            "Cut the tube square. Its end stands where the dashed line \"tube's square end\" is.",
            tiles.Count == 1
                ? "Cut the paper along the curve, the straight upper edge and the right edge of the flap."
                : $"Join the {tiles.Count} sheets cross on cross, then cut along the curve, the straight upper edge and the flap.",
            $"Wrap it with this face outward, the curve at the tube's end, {template.ZeroName} on the line 0°. The seam lines must meet within 1 mm and the upper edge must run on without a step; paper lies a little wide.",
            template.BendPlaneDegrees is { } other && template.MarkName != WrapTemplate.InsideOfBend
                ? $"The line \"{template.MarkName}\" ({other.ToString("0.#", culture)}°) runs along the tube to the line 0° of the wrap at its other end: draw it straight."
            : template.BendPlaneDegrees is { } at
                ? $"The line \"inside of bend\" ({at.ToString("0.#", culture)}°) lies along the inside of the tube's bend: that sets the notch against the bend plane."
            : "This tube has no bend plane given: where both ends are notched, carry the line 0° along the tube to the other end.",
            "Mark along the curve, take the paper off and cut on the waste side. Try it on the joint before it is welded.",
        ];
        for (var i = 0; i < steps.Length; i++)
        {
            sheet.Item((i + 1).ToString(CultureInfo.InvariantCulture) + ".", steps[i], TextStyle.Body);
        }

        sheet.Space(1);
        sheet.Paragraph(Cautions.WhoDecides, TextStyle.Small);
        sheet.Space(2);
    }

    private static void Tile(Sheet sheet, WrapTemplate template, WrapOutline outline, WrapTiles tiles, WrapTile tile)
    {
        var name = $"{template.Head.Tube} · {template.EndName} · this face outward";
        if (tiles.Count > 1)
        {
            name += $" · part {Name(tile)} of {tiles.Columns} × {tiles.Rows}";
        }

        sheet.DrawText(name, TextStyle.Strong, sheet.Left, sheet.Y, sheet.Width);
        Rulers.Lying(sheet, sheet.Left, sheet.Y + Sheet.Mm(6));
        var top = sheet.Y + Sheet.Mm(WrapTiles.BandMm - WrapTiles.OverlapMm);
        var place = new TilePlace(tile, sheet.Left, top + Sheet.Mm(tile.Height));
        Rulers.Upright(sheet, sheet.Right - Sheet.Mm(WrapTiles.RulerColumnMm - 4), top);
        Lines(sheet, template, outline, place);
        Marks(sheet, outline, tiles, place);
        Labels(sheet, template, outline, place);
        sheet.Y = top + Sheet.Mm(Math.Max(tile.Height, Rulers.InchesMm + 10));
    }

    private static void Lines(Sheet sheet, WrapTemplate template, WrapOutline outline, TilePlace place)
    {
        var (width, height) = (outline.WidthMm, outline.HeightMm);
        place.Draw(sheet, Cut, outline.Curve);
        place.Draw(sheet, Edge, [new(0, 0), new(0, height), new(width + WrapOutline.FlapMm, height)]);
        place.Draw(sheet, Edge, [new(width, 0), new(width, height)]);
        place.Draw(
            sheet,
            Guide,
            [new(width + WrapOutline.FlapMm, height), new(width + WrapOutline.FlapMm, outline.CurveAt(0))]
        );
        place.Draw(sheet, Guide, [new(0, 0), new(width, 0)]);
        foreach (var quarter in (double[])[90, 270])
        {
            place.Draw(sheet, Guide, [new(outline.X(quarter), height - 6), new(outline.X(quarter), height)]);
        }

        Upright(0, Edge);
        if (template.BendPlaneDegrees is { } bend)
        {
            Upright(bend, BendPlane);
        }

        void Upright(double degrees, XPen pen)
        {
            var x = outline.X(degrees);
            place.Draw(sheet, pen, [new(x, outline.CurveAt(x)), new(x, height)]);
        }
    }

    /// <summary>Crosses on the borders between sheets: the same place of the wrap on both.</summary>
    private static void Marks(Sheet sheet, WrapOutline outline, WrapTiles tiles, TilePlace place)
    {
        var tile = place.Tile;
        foreach (var (border, isRight) in ((double, bool)[])[(tile.X, false), (tile.Right, true)])
        {
            if (isRight ? tile.Column < tiles.Columns - 1 : tile.Column > 0)
            {
                foreach (var share in (double[])[0.15, 0.5, 0.85])
                {
                    place.Cross(sheet, border, tile.Y + (share * tile.Height));
                }
            }
        }

        foreach (var (border, isTop) in ((double, bool)[])[(tile.Y, false), (tile.Top, true)])
        {
            if (isTop ? tile.Row < tiles.Rows - 1 : tile.Row > 0)
            {
                foreach (var share in (double[])[0.15, 0.5, 0.85])
                {
                    place.Cross(sheet, tile.X + (share * Math.Min(tile.Width, outline.WidthMm)), border);
                }
            }
        }
    }

    private static void Labels(Sheet sheet, WrapTemplate template, WrapOutline outline, TilePlace place)
    {
        var height = outline.HeightMm;
        place.Text(sheet, "seam", 1, height - 1, 20);
        place.Text(sheet, "seam", outline.WidthMm - 9, height - 1, 8);
        place.Text(sheet, "0° " + template.ZeroName, outline.X(0) + 1, height - 1, 60);
        place.Text(sheet, "90°", outline.X(90) + 1, height - 1, 12);
        place.Text(sheet, "270°", outline.X(270) + 1, height - 1, 12);
        place.Text(sheet, template.Head.Tube + " · " + template.EndName, 6, height - 10, outline.WidthMm / 2 - 10);
        place.Text(sheet, "this face outward ↑ tube goes on", outline.X(0) + 6, height - 10, outline.WidthMm / 2 - 10);
        place.Text(sheet, "tube's square end · joint below ↓", 3, -1, outline.WidthMm - 6);
        if (outline.CurveAt(outline.X(0)) > 12)
        {
            place.Text(sheet, "waste", outline.X(0) - 5, outline.CurveAt(outline.X(0)) / 2, 20);
        }

        if (template.BendPlaneDegrees is { } bend)
        {
            place.Text(sheet, template.MarkName, outline.X(bend) + 1, height - 5.5, 30);
        }
    }

    private static string Name(WrapTile tile) =>
        string.Create(CultureInfo.InvariantCulture, $"{(char)('A' + tile.Row)}{tile.Column + 1}");

    private static XPen Dashed(XDashStyle style, double width) => new(XColors.Black, width) { DashStyle = style };
}
