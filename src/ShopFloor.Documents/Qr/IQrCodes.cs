namespace ShopFloor.Documents.Qr;

/// <summary>QR codes for screens and papers.</summary>
public interface IQrCodes
{
    /// <summary>One inline <c>svg</c> element, dark on white with its quiet zone, that scales to any size.</summary>
    /// <param name="text">What the code says, 1 to <see cref="QrMatrix.MaxLength"/> characters; usually a link.</param>
    /// <param name="label">What it is for, read aloud by screen readers, e.g. <c>QR code: add photos with a phone</c>.</param>
    string Svg(string text, string label);

    /// <summary>A PNG with its quiet zone.</summary>
    /// <param name="text">As for <see cref="Svg"/>.</param>
    /// <param name="pixelsPerModule">1 to 40.</param>
    byte[] Png(string text, int pixelsPerModule = 8);
}
