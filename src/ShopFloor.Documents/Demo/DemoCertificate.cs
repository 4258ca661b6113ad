using ShopFloor.Documents.Papers.Layout;
using SkiaSharp;

namespace ShopFloor.Documents.Demo;

/// <summary>Papers that stand in for suppliers' certificates in the demo shop. Each says in large letters that it was drawn for the demo.</summary>
public static class DemoCertificate
{
    public const string Label = "DEMO DRAWING – NOT A CERTIFICATE";

    // A5 in points.
    private const float Width = 420;
    private const float Height = 595;
    private const float Margin = 36;

    /// <summary>A PDF of one page.</summary>
    /// <param name="lines">What it says, at most a line each.</param>
    public static byte[] Pdf(IReadOnlyList<string> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        using var stream = new MemoryStream();
        using (var document = SKDocument.CreatePdf(stream))
        {
            var canvas = document.BeginPage(Width, Height);
            using var typeface = SKTypeface.FromStream(new MemoryStream(FontFiles.Read("DejaVuSans-Bold.ttf")));
            using var large = new SKFont(typeface, 17);
            using var small = new SKFont(typeface, 13);
            using var ink = new SKPaint { Color = SKColors.Black, IsAntialias = true };
            using var band = new SKPaint { Color = new SKColor(0xFF, 0xF3, 0xB0) };
            canvas.DrawRect(0, 0, Width, 60, band);
            canvas.DrawText(Label, Width / 2, 38, SKTextAlign.Center, large, ink);
            var y = 110f;
            foreach (var line in lines)
            {
                canvas.DrawText(line, Margin, y, SKTextAlign.Left, small, ink);
                y += 26;
            }

            document.EndPage();
            document.Close();
        }

        return stream.ToArray();
    }
}
