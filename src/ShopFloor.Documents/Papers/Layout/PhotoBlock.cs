using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>Photos with captions, three beside each other.</summary>
internal static class PhotoBlock
{
    private const int Columns = 3;
    private static readonly double Gap = Sheet.Mm(4);
    private static readonly double Height = Sheet.Mm(42);
    private static readonly XPen Frame = new(XColor.FromArgb(0x80, 0x80, 0x80), 0.6);

    public static void Write(Sheet sheet, IReadOnlyList<PaperPhoto> photos)
    {
        if (photos.Count == 0)
        {
            return;
        }

        sheet.Heading("Photos");
        var width = (sheet.Width - (Gap * (Columns - 1))) / Columns;
        foreach (var row in photos.Chunk(Columns))
        {
            sheet.Ensure(Height + Sheet.Mm(16));
            var top = sheet.Y;
            var bottom = top;
            for (var i = 0; i < row.Length; i++)
            {
                bottom = Math.Max(bottom, One(sheet, row[i], sheet.Left + (i * (width + Gap)), top, width));
            }

            sheet.Y = bottom + Sheet.Mm(3);
        }
    }

    private static double One(Sheet sheet, PaperPhoto photo, double x, double y, double width)
    {
        if (photo.Picture is { } picture)
        {
            using var stream = new MemoryStream(picture.ToArray());
            using var image = XImage.FromStream(stream);
            var scale = Math.Min(width / image.PixelWidth, Height / image.PixelHeight);
            sheet.Graphics.DrawImage(image, x, y, image.PixelWidth * scale, image.PixelHeight * scale);
        }
        else
        {
            sheet.Graphics.DrawRectangle(Frame, x, y, width, Height);
            sheet.DrawText(
                "The picture was removed; its hash stays.",
                TextStyle.Small,
                x + Sheet.Mm(2),
                y + Sheet.Mm(2),
                width - Sheet.Mm(4)
            );
        }

        var below = y + Height + Sheet.Mm(1);
        below += sheet.DrawText(photo.Caption, TextStyle.Small, x, below, width);
        return below + sheet.DrawText($"SHA-256 {photo.Sha256[..16]}…", TextStyle.Small, x, below, width);
    }
}
