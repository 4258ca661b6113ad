using PdfSharp.Drawing;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Qr;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>The parts that several papers share.</summary>
internal static class Blocks
{
    private static readonly XPen Ink = new(XColor.FromArgb(0x1A, 0x1A, 0x1A), 0.8);
    private static readonly XBrush Black = new XSolidBrush(XColors.Black);

    /// <summary>The shop on the left; on the right what the paper is, and its dates and numbers.</summary>
    public static void Letterhead(Sheet sheet, PaperShop shop, string kind, IReadOnlyList<PaperFact> facts)
    {
        var middle = sheet.Left + (sheet.Width * 0.52);
        var leftWidth = middle - sheet.Left - Sheet.Mm(6);
        var left = sheet.Y + Logo(sheet, shop, leftWidth);
        left += sheet.DrawText(shop.Name, TextStyle.Name, sheet.Left, left, leftWidth) + Sheet.Mm(0.5);
        string?[] lines =
        [
            shop.LegalName == shop.Name ? null : shop.LegalName,
            .. shop.AddressLines,
            shop.TaxNumber is { } number ? "Tax registration " + number : null,
            shop.Phone,
            shop.Email,
        ];
        foreach (var line in lines.OfType<string>())
        {
            left += sheet.DrawText(line, TextStyle.Small, sheet.Left, left, leftWidth);
        }

        var right = sheet.Y - 3;
        right += sheet.DrawText(kind, TextStyle.Title, middle, right, sheet.Right - middle);
        foreach (var fact in facts)
        {
            right += Fact(sheet, fact, middle, right, sheet.Right - middle);
        }

        sheet.Y = Math.Max(left, right) + Sheet.Mm(2);
        sheet.Line();
        sheet.Space(1);
    }

    /// <summary>The customer and the car side by side.</summary>
    public static void PartyAndCar(Sheet sheet, string role, PaperParty party, PaperCar? car)
    {
        var middle = sheet.Left + (sheet.Width * 0.52);
        var leftWidth = middle - sheet.Left - Sheet.Mm(6);
        var left = sheet.Y;
        left += sheet.DrawText(role, TextStyle.Small, sheet.Left, left, leftWidth);
        left += sheet.DrawText(party.Name, TextStyle.Strong, sheet.Left, left, leftWidth);
        foreach (var line in party.AddressLines)
        {
            left += sheet.DrawText(line, TextStyle.Body, sheet.Left, left, leftWidth);
        }

        if (party.TaxNumber is { } number)
        {
            left += sheet.DrawText("Tax number " + number, TextStyle.Body, sheet.Left, left, leftWidth);
        }

        var right = sheet.Y;
        if (car is not null)
        {
            right += sheet.DrawText("Car", TextStyle.Small, middle, right, sheet.Right - middle);
            right += sheet.DrawText(car.Title, TextStyle.Strong, middle, right, sheet.Right - middle);
            foreach (var fact in CarFacts(car))
            {
                right += Fact(sheet, fact, middle, right, sheet.Right - middle);
            }
        }

        sheet.Y = Math.Max(left, right) + Sheet.Mm(3);
    }

    public static IEnumerable<PaperFact> CarFacts(PaperCar car)
    {
        if (car.Registration is { } registration)
        {
            yield return new PaperFact("Registration", registration);
        }

        if (car.ChassisNumber is { } chassis)
        {
            yield return new PaperFact("Chassis number", chassis);
        }

        foreach (var fact in car.Facts ?? [])
        {
            yield return fact;
        }
    }

    /// <summary>Labels and values in two columns over the page's width.</summary>
    public static void Facts(Sheet sheet, IReadOnlyList<PaperFact> facts)
    {
        var gap = Sheet.Mm(6);
        var width = (sheet.Width - gap) / 2;
        for (var i = 0; i < facts.Count; i += 2)
        {
            sheet.Ensure(TextStyle.Body.LineHeight * 2);
            var height = Fact(sheet, facts[i], sheet.Left, sheet.Y, width);
            if (i + 1 < facts.Count)
            {
                height = Math.Max(height, Fact(sheet, facts[i + 1], sheet.Left + width + gap, sheet.Y, width));
            }

            sheet.Y += height;
        }
    }

    /// <summary>Lines to sign by pen, or the signature that was given.</summary>
    public static void Signature(Sheet sheet, string role, PaperSignature? signature)
    {
        sheet.Ensure(Sheet.Mm(30));
        var gap = Sheet.Mm(6);
        var width = (sheet.Width - (2 * gap)) / 3;
        var lineY = sheet.Y + Sheet.Mm(19);
        string[] labels = ["Signature of " + role, "Name in capital letters", "Place and date"];
        string?[] values = [null, signature?.Name, signature is null ? null : Sheet.Time(signature.At)];
        for (var i = 0; i < 3; i++)
        {
            var x = sheet.Left + (i * (width + gap));
            sheet.Graphics.DrawLine(Ink, x, lineY, x + width, lineY);
            sheet.DrawText(labels[i], TextStyle.Small, x, lineY + 2, width);
            if (values[i] is { } value)
            {
                sheet.DrawText(value, TextStyle.Body, x, lineY - TextStyle.Body.LineHeight - 2, width);
            }
        }

        if (signature is not null)
        {
            Strokes(sheet, signature, new XRect(sheet.Left, lineY - Sheet.Mm(17), width, Sheet.Mm(16)));
        }

        sheet.Y = lineY + Sheet.Mm(6);
    }

    /// <summary>Cautions in a frame, with who decides below them.</summary>
    public static void CautionBox(Sheet sheet, string heading, IEnumerable<string> texts, bool withWhoDecides)
    {
        sheet.Space(2);
        sheet.Ensure(Sheet.Mm(22));
        sheet.Y += sheet.DrawText("⚠ " + heading, TextStyle.Heading, sheet.Left, sheet.Y, sheet.Width) + Sheet.Mm(1);
        foreach (var text in texts)
        {
            sheet.Item("•", text, TextStyle.Body);
        }

        if (withWhoDecides)
        {
            sheet.Space(0.5);
            sheet.Paragraph(Cautions.WhoDecides, TextStyle.Strong);
        }

        sheet.Space(2);
    }

    /// <summary>A QR code whose side, quiet zone included, is <paramref name="side"/> points.</summary>
    public static void Qr(Sheet sheet, string text, double x, double y, double side)
    {
        var matrix = QrMatrix.Of(text);
        var module = side / matrix.Size;
        foreach (var (row, column, length) in matrix.Runs())
        {
            // A hair higher than a module, so that no viewer shows light seams between the rows.
            var rect = new XRect(x + (column * module), y + (row * module), length * module, module * 1.02);
            sheet.Graphics.DrawRectangle(Black, rect);
        }
    }

    /// <summary>A line of exactly 100 mm between two end marks, to see whether the sheet was printed at full size.</summary>
    public static void CheckLine(Sheet sheet)
    {
        sheet.Ensure(Sheet.Mm(10));
        var (x, y) = (sheet.Left, sheet.Y + Sheet.Mm(4));
        sheet.Graphics.DrawLine(Ink, x, y, x + Sheet.Mm(100), y);
        foreach (var end in (double[])[x, x + Sheet.Mm(100)])
        {
            sheet.Graphics.DrawLine(Ink, end, y - Sheet.Mm(1.5), end, y + Sheet.Mm(1.5));
        }

        sheet.DrawText(
            "This line measures 100 mm on a sheet printed at full size.",
            TextStyle.Small,
            x + Sheet.Mm(103),
            y - 6,
            sheet.Right - x - Sheet.Mm(103)
        );
        sheet.Y = y + Sheet.Mm(5);
    }

    /// <summary>The shop's logo, at most 18 mm high and as wide as its column; its height with the gap below, 0 without a logo.</summary>
    private static double Logo(Sheet sheet, PaperShop shop, double width)
    {
        if (shop.Logo is not { } picture)
        {
            return 0;
        }

        using var stream = new MemoryStream(picture.ToArray());
        using var image = XImage.FromStream(stream);
        var scale = Math.Min(width / image.PixelWidth, Sheet.Mm(18) / image.PixelHeight);
        sheet.Graphics.DrawImage(image, sheet.Left, sheet.Y, image.PixelWidth * scale, image.PixelHeight * scale);
        return (image.PixelHeight * scale) + Sheet.Mm(2);
    }

    private static double Fact(Sheet sheet, PaperFact fact, double x, double y, double width)
    {
        var label = width * 0.36;
        var left = sheet.DrawText(fact.Label, TextStyle.Small, x, y + 1.3, label - 4);
        var right = sheet.DrawText(fact.Value, TextStyle.Body, x + label, y, width - label);
        return Math.Max(left, right);
    }

    private static void Strokes(Sheet sheet, PaperSignature signature, XRect place)
    {
        if (signature.Picture is not { } picture)
        {
            sheet.DrawText(
                signature.Name + " (signed by name on screen)",
                TextStyle.Small,
                place.X,
                place.Bottom - 11,
                place.Width
            );
            return;
        }

        using var stream = new MemoryStream(picture.ToArray());
        using var image = XImage.FromStream(stream);
        var scale = Math.Min(place.Width / image.PixelWidth, place.Height / image.PixelHeight);
        var (width, height) = (image.PixelWidth * scale, image.PixelHeight * scale);
        sheet.Graphics.DrawImage(image, place.X, place.Bottom - height, width, height);
    }
}
