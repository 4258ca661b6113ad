using System.Buffers.Binary;
using System.Text;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Images;

/// <summary>Pictures and Exif blocks made for the tests.</summary>
internal static class TestPictures
{
    /// <summary>Left half red, right half blue, with a green top-left quarter: every turn can be told apart.</summary>
    public static byte[] Encoded(int width, int height, SKEncodedImageFormat format)
    {
        using var bitmap = new SKBitmap(width, height);
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.Red);
            using var blue = new SKPaint { Color = SKColors.Blue };
            canvas.DrawRect(width / 2f, 0, width / 2f, height, blue);
            using var green = new SKPaint { Color = SKColors.Lime };
            canvas.DrawRect(0, 0, width / 2f, height / 2f, green);
        }

        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>A TIFF block with the two entries of the root directory and the two of the Exif directory.</summary>
    public static byte[] Exif(int orientation, string? taken, string? offset, bool little = true)
    {
        var tiff = new byte[256];
        void U16(int at, int value)
        {
            if (little)
            {
                BinaryPrimitives.WriteUInt16LittleEndian(tiff.AsSpan(at), (ushort)value);
            }
            else
            {
                BinaryPrimitives.WriteUInt16BigEndian(tiff.AsSpan(at), (ushort)value);
            }
        }
        void U32(int at, uint value)
        {
            if (little)
            {
                BinaryPrimitives.WriteUInt32LittleEndian(tiff.AsSpan(at), value);
            }
            else
            {
                BinaryPrimitives.WriteUInt32BigEndian(tiff.AsSpan(at), value);
            }
        }
        void Entry(int at, int tag, int type, uint count)
        {
            U16(at, tag);
            U16(at + 2, type);
            U32(at + 4, count);
        }

        Encoding.ASCII.GetBytes(little ? "II*\0" : "MM\0*").CopyTo(tiff, 0);
        U32(4, 8);
        U16(8, 2);
        Entry(10, 0x0112, 3, 1);
        U16(18, orientation);
        Entry(22, 0x8769, 4, 1);
        U32(30, 64);
        U16(64, (taken is null ? 0 : 1) + (offset is null ? 0 : 1));
        var next = 66;
        if (taken is not null)
        {
            Entry(next, 0x9003, 2, (uint)taken.Length + 1);
            U32(next + 8, 128);
            Encoding.ASCII.GetBytes(taken).CopyTo(tiff, 128);
            next += 12;
        }

        if (offset is not null)
        {
            Entry(next, 0x9011, 2, (uint)offset.Length + 1);
            U32(next + 8, 192);
            Encoding.ASCII.GetBytes(offset).CopyTo(tiff, 192);
        }

        return tiff;
    }

    public static byte[] JpegWithExif(byte[] jpeg, byte[] exif)
    {
        byte[] body = [.. "Exif\0\0"u8, .. exif];
        var segment = new byte[body.Length + 4];
        segment[0] = 0xFF;
        segment[1] = 0xE1;
        BinaryPrimitives.WriteUInt16BigEndian(segment.AsSpan(2), (ushort)(body.Length + 2));
        body.CopyTo(segment, 4);
        return [.. jpeg[..2], .. segment, .. jpeg[2..]];
    }

    public static byte[] PngWithExif(byte[] png, byte[] exif)
    {
        // Behind the 8 bytes of signature and the 25 of IHDR.
        return [.. png[..33], .. Chunk("eXIf", exif), .. png[33..]];
    }

    /// <summary>A PNG whose head says any size; its pixel data are a few bytes.</summary>
    public static byte[] PngHead(uint width, uint height)
    {
        var header = new byte[13];
        BinaryPrimitives.WriteUInt32BigEndian(header, width);
        BinaryPrimitives.WriteUInt32BigEndian(header.AsSpan(4), height);
        header[8] = 8;
        header[9] = 2;
        return
        [
            0x89,
            .. "PNG\r\n"u8,
            0x1A,
            0x0A,
            .. Chunk("IHDR", header),
            .. Chunk("IDAT", [0x78, 0x9C, 0x03, 0, 0, 0, 0, 1]),
            .. Chunk("IEND", []),
        ];
    }

    private static byte[] Chunk(string type, byte[] body)
    {
        byte[] typed = [.. Encoding.ASCII.GetBytes(type), .. body];
        var chunk = new byte[typed.Length + 8];
        BinaryPrimitives.WriteUInt32BigEndian(chunk, (uint)body.Length);
        typed.CopyTo(chunk, 4);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(typed.Length + 4), Crc(typed));
        return chunk;
    }

    private static uint Crc(ReadOnlySpan<byte> data)
    {
        var crc = 0xFFFFFFFFu;
        foreach (var b in data)
        {
            crc ^= b;
            for (var i = 0; i < 8; i++)
            {
                crc = (crc & 1) == 1 ? (crc >> 1) ^ 0xEDB88320u : crc >> 1;
            }
        }

        return ~crc;
    }
}
