using System.Globalization;
using System.Net;
using System.Text;
using QRCoder;

namespace ShopFloor.Documents.Qr;

/// <summary><see cref="IQrCodes"/> on QRCoder.</summary>
public sealed class QrCodes : IQrCodes
{
    public string Svg(string text, string label)
    {
        ArgumentException.ThrowIfNullOrEmpty(label);
        var matrix = QrMatrix.Of(text);
        var path = new StringBuilder();
        foreach (var (row, column, length) in matrix.Runs())
        {
            path.Append(CultureInfo.InvariantCulture, $"M{column} {row}h{length}v1h-{length}z");
        }

        // White is drawn, not left out: a code on a dark page would be inverted, which many readers do not take.
        return string.Create(
            CultureInfo.InvariantCulture,
            $"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {matrix.Size} {matrix.Size}" role="img" aria-label="{WebUtility.HtmlEncode(label)}" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h{matrix.Size}v{matrix.Size}h-{matrix.Size}z"/><path fill="#000" d="{path}"/></svg>"""
        );
    }

    public byte[] Png(string text, int pixelsPerModule = 8)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(pixelsPerModule, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(pixelsPerModule, 40);
        using var code = QrMatrix.Generate(text);
        using var png = new PngByteQRCode(code);
        return png.GetGraphic(pixelsPerModule);
    }
}
