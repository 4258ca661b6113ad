using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;

namespace ShopFloor.Web.Tests.SignIns;

/// <summary>What an authenticator app shows, worked out from the standards alone: RFC 6238 over RFC 4226, 5.3; the secret as RFC 4648 base 32.</summary>
internal static class AppCode
{
    public static string Of(byte[] secret, DateTimeOffset now)
    {
        Span<byte> step = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(step, now.ToUnixTimeSeconds() / 30);
#pragma warning disable CA5350 // The standard's own hash.
        var mac = HMACSHA1.HashData(secret, step);
#pragma warning restore CA5350
        var number = BinaryPrimitives.ReadInt32BigEndian(mac.AsSpan(mac[19] & 15)) & int.MaxValue;
        return (number % 1_000_000).ToString("000000", CultureInfo.InvariantCulture);
    }

    /// <summary>The secret as a page shows it.</summary>
    public static byte[] Secret(string said)
    {
        const string alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
        var bytes = new List<byte>();
        var (bits, held) = (0, 0);
        foreach (var sign in said.Where(c => c != ' '))
        {
            bits = ((bits << 5) | alphabet.IndexOf(sign, StringComparison.Ordinal)) & 0xFFFF;
            held += 5;
            if (held >= 8)
            {
                held -= 8;
                bytes.Add((byte)((bits >> held) & 0xFF));
            }
        }

        return [.. bytes];
    }
}
