using SkiaSharp;

namespace ShopFloor.Documents.Images;

/// <summary>Draws a signature's strokes for a paper.</summary>
public static class SignaturePicture
{
    private const int Width = 800;
    private const int Height = 280;

    /// <summary>A PNG of 800 × 280 pixels on white; null where nothing was drawn.</summary>
    /// <param name="strokes">Each as x, y, x, y … in thousandths of the pad's width and height.</param>
    public static byte[]? Png(IReadOnlyList<IReadOnlyList<int>> strokes)
    {
        if (strokes.Count == 0)
        {
            return null;
        }

        using var bitmap = new SKBitmap(Width, Height);
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.White);
            using var pen = new SKPaint
            {
                Color = new SKColor(0x1f, 0x23, 0x26),
                StrokeWidth = 4,
                IsStroke = true,
                IsAntialias = true,
                StrokeCap = SKStrokeCap.Round,
                StrokeJoin = SKStrokeJoin.Round,
            };
            foreach (var stroke in strokes)
            {
                for (var i = 3; i < stroke.Count; i += 2)
                {
                    canvas.DrawLine(At(stroke, i - 3), At(stroke, i - 1), pen);
                }
            }
        }

        using var image = SKImage.FromBitmap(bitmap);
        using var png = image.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    private static SKPoint At(IReadOnlyList<int> stroke, int i) =>
        new(stroke[i] * Width / 1000f, stroke[i + 1] * Height / 1000f);
}
