using System.Buffers.Text;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Application.Devices;

/// <summary>Codes that people type and secrets that devices keep; only their hashes are stored.</summary>
internal static class DeviceSecrets
{
    /// <summary>Without letters and digits that are taken for one another.</summary>
    private const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
    private const int CodeLength = 8;

    /// <summary>Eight signs of 32: 40 bits, for a code that lives minutes and is tried at most a few times.</summary>
    public static string NewCode() => RandomNumberGenerator.GetString(Alphabet, CodeLength);

    /// <summary>In two groups, as it is read out.</summary>
    public static string Said(string code) => $"{code[..4]}-{code[4..]}";

    /// <summary>What was typed, without spaces and hyphens, in capital letters.</summary>
    public static string Typed(string? code) =>
        new([.. (code ?? "").ToUpperInvariant().Where(char.IsAsciiLetterOrDigit).Take(64)]);

    public static string NewSecret() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    /// <summary>SHA-256; the secret is random and the code short-lived, so that no salt is needed.</summary>
    public static string HashOf(string secret) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>A name for the network that an address belongs to: the address itself, of IPv6 its first 48 bits, the most that one end site is given (RFC 6177, from memory). Hashed, because an address is about a person.</summary>
    public static string NetworkOf(IPAddress? address)
    {
        if (address is null)
        {
            return "unknown";
        }

        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        var bytes = plain.GetAddressBytes();
        return HashOf(
            Convert.ToHexStringLower(plain.AddressFamily == AddressFamily.InterNetworkV6 ? bytes[..6] : bytes)
        )[..32];
    }
}
