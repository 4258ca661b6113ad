using System.Collections.Concurrent;
using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using SkiaSharp;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>The fonts that travel with the program, so that a paper looks the same on every machine.</summary>
internal static class PaperFonts
{
    private const string Sans = "DejaVu Sans";
    private const string Mono = "DejaVu Sans Mono";

    static PaperFonts() => GlobalFontSettings.FontResolver ??= new EmbeddedFonts();

    public static XFont Regular(double points) => new(Sans, points, XFontStyleEx.Regular);

    public static XFont Bold(double points) => new(Sans, points, XFontStyleEx.Bold);

    public static XFont Fixed(double points) => new(Mono, points, XFontStyleEx.Regular);

    private sealed class EmbeddedFonts : IFontResolver
    {
        private readonly ConcurrentDictionary<string, byte[]> faces = new(StringComparer.Ordinal);

        public FontResolverInfo? ResolveTypeface(string familyName, bool bold, bool italic) =>
            new(
                familyName == Mono ? "DejaVuSansMono.ttf"
                : bold ? "DejaVuSans-Bold.ttf"
                : "DejaVuSans.ttf"
            );

        public byte[]? GetFont(string faceName) => faces.GetOrAdd(faceName, FontFiles.Read);
    }
}

internal static class FontFiles
{
    public static byte[] Read(string name)
    {
        using var stream =
            typeof(FontFiles).Assembly.GetManifestResourceStream("fonts/" + name)
            ?? throw new InvalidOperationException($"The font {name} is not embedded.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

/// <summary>Makes a text printable: a character that no embedded font has would vanish without an error, so it becomes a visible replacement sign.</summary>
internal static class Printable
{
    private static readonly Rune Replacement = new(0xFFFD);

    // The bold and the regular face have the same letters; the rarer signs used by the papers are in both.
    private static readonly SKFont Face = new(
        SKTypeface.FromStream(new MemoryStream(FontFiles.Read("DejaVuSans.ttf")))
    );
    private static readonly ConcurrentDictionary<int, bool> Known = new();

    public static string Text(string text)
    {
        var result = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value is '\t' or '\r')
            {
                result.Append(' ');
            }
            else if (rune.Value == '\n' || IsKnown(rune))
            {
                result.Append(rune.ToString());
            }
            else if (!Rune.IsControl(rune))
            {
                result.Append(Replacement.ToString());
            }
        }

        return result.ToString();
    }

    // The font is asked under a lock: Skia's objects are not promised to be safe for several threads.
    private static bool IsKnown(Rune rune) =>
        Known.GetOrAdd(
            rune.Value,
            static value =>
            {
                lock (Face)
                {
                    return Face.ContainsGlyph(value);
                }
            }
        );
}
