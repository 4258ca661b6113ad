using ShopFloor.Documents.Papers.Layout;
using SkiaSharp;

namespace ShopFloor.Documents.Demo;

/// <summary>What a demo drawing shows.</summary>
public enum DemoScene
{
    CarSide,
    CarEnd,
    Dashboard,
    Floor,
    Plate,
    Weld,
}

/// <summary>Drawings that stand in for photos in the demo shop. Each says in large letters that it is a drawing made for the demo.</summary>
public static class DemoDrawing
{
    public const string Label = "DEMO DRAWING – NOT A PHOTO";
    private const int Width = 1600;
    private const int Height = 1200;
    private static readonly SKColor Line = new(0x22, 0x22, 0x22);
    private static readonly SKColor Ground = new(0xD8, 0xD4, 0xCC);
    private static readonly SKColor Steel = new(0x9A, 0xA2, 0xA8);

    private static readonly SKColor[] Paints =
    [
        new(0x7A, 0x9E, 0x7E),
        new(0x8A, 0x6F, 0x9E),
        new(0xB5, 0x7B, 0x4A),
        new(0x5F, 0x83, 0xA6),
        new(0xA3, 0x5D, 0x5D),
    ];

    /// <summary>A PNG of 1600 x 1200 pixels.</summary>
    /// <param name="scene">What to draw.</param>
    /// <param name="caption">What a photo would show, at most a line.</param>
    /// <param name="number">Chooses paint and small differences; the same number gives the same picture.</param>
    public static byte[] Png(DemoScene scene, string caption, int number)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(Width, Height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(Ground);
        var paint = Paints[Math.Abs(number) % Paints.Length];
        switch (scene)
        {
            case DemoScene.CarSide:
                CarSide(canvas, paint);
                break;
            case DemoScene.CarEnd:
                CarEnd(canvas, paint);
                break;
            case DemoScene.Dashboard:
                Dashboard(canvas, number);
                break;
            case DemoScene.Floor:
                Floor(canvas, paint, withPlate: false);
                break;
            case DemoScene.Plate:
                Floor(canvas, paint, withPlate: true);
                break;
            default:
                Weld(canvas, number);
                break;
        }

        Captions(canvas, caption);
        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Png, 100);
        return data.ToArray();
    }

    private static void CarSide(SKCanvas canvas, SKColor colour)
    {
        using var path = SKPath.ParseSvgPathData(
            "M160 760 C160 640 220 600 420 590 L600 440 C660 400 1020 400 1090 440 L1230 590 C1400 600 1450 660 1450 760 Z"
        );
        Fill(canvas, path, colour);
        using var window = SKPath.ParseSvgPathData(
            "M560 580 L660 470 C700 450 820 448 830 450 L830 580 Z M870 580 L870 450 C960 448 1020 460 1040 475 L1130 580 Z"
        );
        Fill(canvas, window, new SKColor(0xC9, 0xDD, 0xE6));
        // The hoop as it will stand behind the front seats.
        Stroke(canvas, "M850 750 L850 480 C850 470 870 470 880 480 L1150 720", Steel, 16);
        Wheel(canvas, 420);
        Wheel(canvas, 1180);
    }

    private static void CarEnd(SKCanvas canvas, SKColor colour)
    {
        using var path = SKPath.ParseSvgPathData(
            "M380 820 L380 600 C380 560 430 540 480 530 L560 380 C600 340 1000 340 1040 380 L1120 530 C1170 540 1220 560 1220 600 L1220 820 Z"
        );
        Fill(canvas, path, colour);
        using var glass = SKPath.ParseSvgPathData("M540 525 L610 400 C640 385 960 385 990 400 L1060 525 Z");
        Fill(canvas, glass, new SKColor(0xC9, 0xDD, 0xE6));
        Stroke(
            canvas,
            "M600 520 L600 420 C600 395 620 395 640 395 L960 395 C985 395 1000 400 1000 420 L1000 520",
            Steel,
            18
        );
        Box(canvas, 420, 600, 150, 70, new SKColor(0xC2, 0x4A, 0x4A));
        Box(canvas, 1030, 600, 150, 70, new SKColor(0xC2, 0x4A, 0x4A));
        Box(canvas, 400, 820, 170, 90, Line);
        Box(canvas, 1030, 820, 170, 90, Line);
    }

    private static void Dashboard(SKCanvas canvas, int number)
    {
        Box(canvas, 100, 380, 1400, 480, new SKColor(0x4A, 0x4A, 0x4E));
        using var face = new SKPaint { Color = SKColors.White, IsAntialias = true };
        foreach (var x in (float[])[520, 1080])
        {
            canvas.DrawCircle(x, 610, 170, face);
            var angle = (0.6 + (Math.Abs(number) % 7 * 0.3)) * Math.PI;
            using var needle = new SKPaint
            {
                Color = new SKColor(0xC2, 0x4A, 0x4A),
                IsAntialias = true,
                StrokeWidth = 10,
            };
            canvas.DrawLine(x, 610, x + (float)(Math.Cos(angle) * 140), 610 + (float)(Math.Sin(angle) * 140), needle);
        }

        Box(canvas, 700, 700, 200, 70, SKColors.White);
    }

    private static void Floor(SKCanvas canvas, SKColor colour, bool withPlate)
    {
        Box(canvas, 150, 300, 1300, 650, colour);
        foreach (var y in (int[])[420, 560, 700, 840])
        {
            Box(canvas, 200, y, 1200, 18, colour.WithAlpha(0x90));
        }

        // The seam that is cleaned to bare metal.
        Box(canvas, 760, 300, 60, 650, Steel);
        if (!withPlate)
        {
            return;
        }

        using var plate = SKPath.ParseSvgPathData("M560 460 L1000 460 L1000 780 L820 780 L780 820 L560 820 Z");
        Fill(canvas, plate, new SKColor(0xB9, 0xC0, 0xC5));
        Stroke(canvas, "M560 700 L1000 700", Line, 4);
        foreach (var (x, y) in ((float, float)[])[(600, 460), (960, 460), (600, 820), (1000, 640)])
        {
            using var tack = new SKPaint { Color = Line, IsAntialias = true };
            canvas.DrawCircle(x, y, 12, tack);
        }
    }

    private static void Weld(SKCanvas canvas, int number)
    {
        Box(canvas, 100, 640, 1400, 300, Steel);
        Box(canvas, 640, 300, 320, 345, new SKColor(0xB9, 0xC0, 0xC5));
        using var bead = new SKPaint { Color = new SKColor(0x6E, 0x66, 0x5A), IsAntialias = true };
        using var edge = new SKPaint
        {
            Color = Line,
            IsAntialias = true,
            IsStroke = true,
            StrokeWidth = 3,
        };
        for (var x = 610; x <= 990; x += 26)
        {
            var y = 648 + ((x * 7) + number) % 9;
            canvas.DrawOval(x, y, 24, 30, bead);
            canvas.DrawOval(x, y, 24, 30, edge);
        }
    }

    private static void Captions(SKCanvas canvas, string caption)
    {
        using var typeface = SKTypeface.FromStream(new MemoryStream(FontFiles.Read("DejaVuSans-Bold.ttf")));
        using var large = new SKFont(typeface, 54);
        using var small = new SKFont(typeface, 44);
        using var ink = new SKPaint { Color = Line, IsAntialias = true };
        using var band = new SKPaint { Color = new SKColor(0xFF, 0xF3, 0xB0) };
        canvas.DrawRect(0, 0, Width, 110, band);
        canvas.DrawText(Label, Width / 2f, 76, SKTextAlign.Center, large, ink);
        canvas.DrawText(caption, Width / 2f, Height - 60, SKTextAlign.Center, small, ink);
    }

    private static void Wheel(SKCanvas canvas, float x)
    {
        using var tyre = new SKPaint { Color = Line, IsAntialias = true };
        using var rim = new SKPaint { Color = Steel, IsAntialias = true };
        canvas.DrawCircle(x, 770, 110, tyre);
        canvas.DrawCircle(x, 770, 62, rim);
    }

    private static void Box(SKCanvas canvas, float x, float y, float width, float height, SKColor colour)
    {
        using var fill = new SKPaint { Color = colour, IsAntialias = true };
        using var edge = new SKPaint
        {
            Color = Line,
            IsAntialias = true,
            IsStroke = true,
            StrokeWidth = 4,
        };
        canvas.DrawRect(x, y, width, height, fill);
        canvas.DrawRect(x, y, width, height, edge);
    }

    private static void Fill(SKCanvas canvas, SKPath path, SKColor colour)
    {
        using var fill = new SKPaint { Color = colour, IsAntialias = true };
        canvas.DrawPath(path, fill);
        using var edge = new SKPaint
        {
            Color = Line,
            IsAntialias = true,
            IsStroke = true,
            StrokeWidth = 5,
        };
        canvas.DrawPath(path, edge);
    }

    private static void Stroke(SKCanvas canvas, string svgPath, SKColor colour, float width)
    {
        using var path = SKPath.ParseSvgPathData(svgPath);
        using var paint = new SKPaint
        {
            Color = colour,
            IsAntialias = true,
            IsStroke = true,
            StrokeWidth = width,
        };
        canvas.DrawPath(path, paint);
    }
}
