using System.Buffers.Binary;

namespace ShopFloor.Documents.Images;

/// <summary>Finds the Exif block (a small TIFF file) inside a picture. Damaged files give an empty block, never an exception.</summary>
internal static class ExifBlock
{
    private static ReadOnlySpan<byte> JpegHead => "Exif\0\0"u8;

    public static ReadOnlySpan<byte> Find(ReadOnlySpan<byte> data, ImageKind kind) =>
        kind switch
        {
            ImageKind.Jpeg => InJpeg(data),
            ImageKind.Png => InPng(data),
            _ => InWebP(data),
        };

    /// <summary>Walks the marker segments up to the start of scan; Exif is in an APP1 segment (CIPA DC-008, section 4.5.4).</summary>
    private static ReadOnlySpan<byte> InJpeg(ReadOnlySpan<byte> data)
    {
        const byte app1 = 0xE1;
        const byte startOfScan = 0xDA;
        var at = 2;
        while (at + 4 <= data.Length && data[at] == 0xFF)
        {
            var marker = data[at + 1];
            if (marker == 0xFF)
            {
                // Fill bytes may stand before a marker.
                at++;
                continue;
            }

            if (marker == startOfScan)
            {
                break;
            }

            int length = BinaryPrimitives.ReadUInt16BigEndian(data[(at + 2)..]);
            if (length < 2 || at + 2 + length > data.Length)
            {
                break;
            }

            var body = data.Slice(at + 4, length - 2);
            if (marker == app1 && body.StartsWith(JpegHead))
            {
                return body[JpegHead.Length..];
            }

            at += 2 + length;
        }

        return [];
    }

    /// <summary>Chunk eXIf of the PNG specification, third edition.</summary>
    private static ReadOnlySpan<byte> InPng(ReadOnlySpan<byte> data)
    {
        var at = 8;
        while (at + 12 <= data.Length)
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(data[at..]);
            if (length > (uint)(data.Length - at - 12))
            {
                break;
            }

            if (data.Slice(at + 4, 4).SequenceEqual("eXIf"u8))
            {
                return data.Slice(at + 8, (int)length);
            }

            at += 12 + (int)length;
        }

        return [];
    }

    /// <summary>Chunk EXIF of the RIFF container (RFC 9649, section 2.7.1.5); some writers put the JPEG head before it.</summary>
    private static ReadOnlySpan<byte> InWebP(ReadOnlySpan<byte> data)
    {
        var at = 12;
        while (at + 8 <= data.Length)
        {
            var length = BinaryPrimitives.ReadUInt32LittleEndian(data[(at + 4)..]);
            if (length > (uint)(data.Length - at - 8))
            {
                break;
            }

            if (data.Slice(at, 4).SequenceEqual("EXIF"u8))
            {
                var body = data.Slice(at + 8, (int)length);
                return body.StartsWith(JpegHead) ? body[JpegHead.Length..] : body;
            }

            // Chunks are padded to an even length.
            at += 8 + (int)length + (int)(length & 1);
        }

        return [];
    }
}
