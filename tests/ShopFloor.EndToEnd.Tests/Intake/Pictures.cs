using SkiaSharp;

namespace ShopFloor.EndToEnd.Tests.Intake;

/// <summary>A small picture made for the tests.</summary>
internal static class Pictures
{
    public static byte[] Png { get; } = Draw();

    private static byte[] Draw()
    {
        using var bitmap = new SKBitmap(640, 480);
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(new SKColor(0x9a, 0xa8, 0xb0));
            using var paint = new SKPaint { Color = new SKColor(0x2f, 0x6f, 0x5e) };
            canvas.DrawRect(80, 180, 480, 180, paint);
            canvas.DrawCircle(180, 370, 60, paint);
            canvas.DrawCircle(460, 370, 60, paint);
        }

        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }
}
