using PdfSharp.Drawing;

namespace ShopFloor.Documents.Papers.Layout;

internal enum Align
{
    Left,
    Right,
    Centre,
}

/// <summary>A font with its ink and line height in points.</summary>
internal sealed record TextStyle(XFont Font, XBrush Ink, double LineHeight)
{
    private static readonly XBrush Black = new XSolidBrush(XColor.FromArgb(0x1A, 0x1A, 0x1A));

    // 7:1 on white, so that small print stays readable on a tired printer.
    private static readonly XBrush Grey = new XSolidBrush(XColor.FromArgb(0x50, 0x50, 0x50));

    public static readonly TextStyle Body = new(PaperFonts.Regular(9), Black, 12.2);
    public static readonly TextStyle Strong = new(PaperFonts.Bold(9), Black, 12.2);
    public static readonly TextStyle Small = new(PaperFonts.Regular(7.5), Grey, 10);
    public static readonly TextStyle SmallStrong = new(PaperFonts.Bold(7.5), Grey, 10);
    public static readonly TextStyle Heading = new(PaperFonts.Bold(11), Black, 15);
    public static readonly TextStyle Name = new(PaperFonts.Bold(14), Black, 18);
    public static readonly TextStyle Title = new(PaperFonts.Bold(19), Black, 24);
    public static readonly TextStyle Code = new(PaperFonts.Fixed(7.5), Black, 10);

    // Read from the driver's seat of another car: the traveller hangs on a mirror.
    public static readonly TextStyle Large = new(PaperFonts.Bold(12), Black, 16);
}
