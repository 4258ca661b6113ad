using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace ShopFloor.Documents.Images;

/// <summary>The two facts that are read from a photo's Exif block before it is dropped: which way is up, and when it was taken.</summary>
/// <remarks>Tags after CIPA DC-008 (Exif 2.32): 0x0112 Orientation, 0x8769 Exif IFD, 0x9003 DateTimeOriginal, 0x9011 OffsetTimeOriginal.</remarks>
/// <param name="Orientation">1 to 8; 1 is upright.</param>
internal sealed record ExifFacts(int Orientation, CaptureTime? CapturedAt)
{
    private const ushort OrientationTag = 0x0112;
    private const ushort ExifIfdTag = 0x8769;
    private const ushort DateTimeOriginalTag = 0x9003;
    private const ushort OffsetTimeOriginalTag = 0x9011;
    private const int MaxEntries = 512;

    public static ExifFacts None { get; } = new(1, null);

    /// <summary>Reads a TIFF block; whatever is damaged or out of range counts as not said.</summary>
    public static ExifFacts Read(ReadOnlySpan<byte> tiff)
    {
        if (tiff.Length < 8)
        {
            return None;
        }

        bool little;
        if (tiff[..4].SequenceEqual("II*\0"u8))
        {
            little = true;
        }
        else if (tiff[..4].SequenceEqual("MM\0*"u8))
        {
            little = false;
        }
        else
        {
            return None;
        }

        var reader = new TiffReader(tiff, little);
        var root = reader.U32(4);
        var orientation = reader.Entry(root, OrientationTag) is { } o ? reader.U16(o + 8) : 1;
        var time = default(CaptureTime);
        if (reader.Entry(root, ExifIfdTag) is { } pointer)
        {
            var ifd = reader.U32(pointer + 8);
            time = ParseTime(reader.Ascii(ifd, DateTimeOriginalTag), reader.Ascii(ifd, OffsetTimeOriginalTag));
        }

        return new(orientation is >= 1 and <= 8 ? orientation : 1, time);
    }

    private static CaptureTime? ParseTime(string? text, string? offsetText)
    {
        var isTime = DateTime.TryParseExact(
            text,
            "yyyy:MM:dd HH:mm:ss",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var local
        );
        // Digital cameras are younger than 1990; an earlier year is a clock that was never set.
        if (!isTime || local.Year < 1990)
        {
            return null;
        }

        TimeSpan? offset = null;
        if (
            offsetText is { Length: 6 }
            && offsetText[0] is '+' or '-'
            && TimeSpan.TryParseExact(offsetText[1..], @"hh\:mm", CultureInfo.InvariantCulture, out var size)
            && size <= TimeSpan.FromHours(14)
        )
        {
            offset = offsetText[0] == '-' ? -size : size;
        }

        return new CaptureTime(local, offset);
    }

    /// <summary>Bounds-checked reads; a position outside the block reads as 0 or null.</summary>
    private readonly ref struct TiffReader(ReadOnlySpan<byte> data, bool little)
    {
        private readonly ReadOnlySpan<byte> data = data;

        public int U16(long at)
        {
            if (at < 0 || at + 2 > data.Length)
            {
                return 0;
            }

            var bytes = data.Slice((int)at, 2);
            return little
                ? BinaryPrimitives.ReadUInt16LittleEndian(bytes)
                : BinaryPrimitives.ReadUInt16BigEndian(bytes);
        }

        public long U32(long at)
        {
            if (at < 0 || at + 4 > data.Length)
            {
                return 0;
            }

            var bytes = data.Slice((int)at, 4);
            return little
                ? BinaryPrimitives.ReadUInt32LittleEndian(bytes)
                : BinaryPrimitives.ReadUInt32BigEndian(bytes);
        }

        /// <summary>Position of the 12-byte entry with this tag, or null.</summary>
        public long? Entry(long ifd, ushort tag)
        {
            if (ifd < 8)
            {
                return null;
            }

            var count = Math.Min(U16(ifd), MaxEntries);
            for (var i = 0; i < count; i++)
            {
                var at = ifd + 2 + (12L * i);
                if (at + 12 > data.Length)
                {
                    return null;
                }

                if (U16(at) == tag)
                {
                    return at;
                }
            }

            return null;
        }

        /// <summary>A short text entry (type 2), without its closing zero.</summary>
        public string? Ascii(long ifd, ushort tag)
        {
            const int ascii = 2;
            const int longest = 64;
            if (Entry(ifd, tag) is not { } entry || U16(entry + 2) != ascii)
            {
                return null;
            }

            var length = U32(entry + 4);
            var at = length <= 4 ? entry + 8 : U32(entry + 8);
            return length is < 1 or > longest || at + length > data.Length
                ? null
                : Encoding.ASCII.GetString(data.Slice((int)at, (int)length)).TrimEnd('\0', ' ');
        }
    }
}
