using System.Diagnostics;
using System.Globalization;
using System.Text;
using SkiaSharp;
using ZXing;
using ZXing.Common;

namespace ShopFloor.EndToEnd.Tests.Floor;

/// <summary>The first page of a traveller as poppler prints it: an independent reader looks at it, and a camera films it.</summary>
internal static class TravellerFilm
{
    private const int Width = 640;
    private const int Height = 480;

    /// <summary>The page as grey values, at 110 points an inch: the code is about as large as a hand's breadth before a camera.</summary>
    public static async Task<SKBitmap> PageAsync(byte[] pdf)
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-traveller").FullName;
        try
        {
            var file = Path.Combine(folder, "traveller.pdf");
            await File.WriteAllBytesAsync(file, pdf);
            using var process = Process.Start(
                new ProcessStartInfo(
                    "pdftoppm",
                    ["-r", "110", "-png", "-singlefile", file, Path.Combine(folder, "page")]
                )
            )!;
            await process.WaitForExitAsync();
            Assert.Equal(0, process.ExitCode);
            return SKBitmap.Decode(Path.Combine(folder, "page.png"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>The text of the code on the page, read by ZXing.</summary>
    public static string? Read(SKBitmap page)
    {
        var grey = Grey(page, 0, 0, page.Width, page.Height);
        var source = new RGBLuminanceSource(grey, page.Width, page.Height, RGBLuminanceSource.BitmapFormat.Gray8);
        return new MultiFormatReader()
            .decode(
                new BinaryBitmap(new HybridBinarizer(source)),
                new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true }
            )
            ?.Text;
    }

    /// <summary>A film of the page's upper right corner, in the uncompressed format that Chromium takes for its camera.</summary>
    public static void Write(SKBitmap page, string file)
    {
        using var stream = File.Create(file);
        Put(
            stream,
            string.Create(CultureInfo.InvariantCulture, $"YUV4MPEG2 W{Width} H{Height} F10:1 Ip A1:1 C420jpeg\n")
        );
        var light = Grey(page, page.Width - Width, 0, Width, Height);
        var colour = Enumerable.Repeat((byte)128, Width * Height / 2).ToArray();
        for (var frame = 0; frame < 10; frame++)
        {
            Put(stream, "FRAME\n");
            stream.Write(light);
            stream.Write(colour);
        }
    }

    private static void Put(FileStream stream, string text) => stream.Write(Encoding.ASCII.GetBytes(text));

    private static byte[] Grey(SKBitmap page, int left, int top, int width, int height)
    {
        var grey = new byte[width * height];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                page.GetPixel(left + x, top + y).ToHsv(out _, out _, out var light);
                grey[(y * width) + x] = (byte)(light * 2.55f);
            }
        }

        return grey;
    }
}
