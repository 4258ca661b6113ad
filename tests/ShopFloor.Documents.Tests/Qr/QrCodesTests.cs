using System.Globalization;
using System.Text.RegularExpressions;
using ShopFloor.Documents.Qr;
using SkiaSharp;
using Xunit;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace ShopFloor.Documents.Tests.Qr;

public sealed partial class QrCodesTests
{
    private const string Link = "https://shop.example.com/u/3q2-7wAAQkJ_xyz?job=J-2026-0001";
    private readonly QrCodes codes = new();

    [Fact]
    public void The_png_is_read_back_by_an_independent_reader()
    {
        using var bitmap = SKBitmap.Decode(codes.Png(Link));

        Assert.Equal(Link, QrReader.Read(bitmap));
    }

    [Fact]
    public void The_svg_is_read_back_by_an_independent_reader()
    {
        var svg = codes.Svg(Link, "QR code: add photos");

        using var bitmap = Rasterise(svg);
        Assert.Equal(Link, QrReader.Read(bitmap));
    }

    [Fact]
    public void The_svg_says_what_it_is_for_and_escapes_the_label()
    {
        var svg = codes.Svg(Link, "\"><script>alert(1)</script>");

        Assert.Contains("role=\"img\"", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>", svg, StringComparison.Ordinal);
        Assert.DoesNotContain(Link, svg, StringComparison.Ordinal);
    }

    [Fact]
    public void A_text_longer_than_the_limit_is_refused_and_one_at_the_limit_is_taken()
    {
        Assert.Throws<ArgumentException>(() => codes.Png(new string('x', QrMatrix.MaxLength + 1)));
        using var bitmap = SKBitmap.Decode(codes.Png(new string('x', QrMatrix.MaxLength)));
        Assert.Equal(QrMatrix.MaxLength, QrReader.Read(bitmap)?.Length);
    }

    private static SKBitmap Rasterise(string svg)
    {
        const int scale = 6;
        var size = int.Parse(ViewBox().Match(svg).Groups[1].Value, CultureInfo.InvariantCulture);
        var bitmap = new SKBitmap(size * scale, size * scale);
        using var canvas = new SKCanvas(bitmap);
        canvas.Scale(scale);
        using var black = new SKPaint { Color = SKColors.Black };
        canvas.Clear(SKColors.White);
        using var path = SKPath.ParseSvgPathData(DarkPath().Match(svg).Groups[1].Value);
        canvas.DrawPath(path, black);
        return bitmap;
    }

    [GeneratedRegex("viewBox=\"0 0 (\\d+) \\1\"")]
    private static partial Regex ViewBox();

    [GeneratedRegex("fill=\"#000\" d=\"([^\"]+)\"")]
    private static partial Regex DarkPath();
}

internal static class QrReader
{
    /// <summary>The text of the one QR code in the picture, or null.</summary>
    public static string? Read(SKBitmap bitmap)
    {
        var rgb = new byte[bitmap.Width * bitmap.Height * 3];
        var at = 0;
        foreach (var pixel in bitmap.Pixels)
        {
            rgb[at++] = pixel.Red;
            rgb[at++] = pixel.Green;
            rgb[at++] = pixel.Blue;
        }

        var source = new RGBLuminanceSource(rgb, bitmap.Width, bitmap.Height);
        var hints = new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true };
        return new QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source)), hints)?.Text;
    }
}
