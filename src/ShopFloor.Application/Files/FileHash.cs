using System.Security.Cryptography;

namespace ShopFloor.Application.Files;

internal static class FileHash
{
    public static string Of(ReadOnlySpan<byte> content) => Convert.ToHexStringLower(SHA256.HashData(content));

    /// <summary>Hashes become file names, so nothing else may pass.</summary>
    public static bool IsHash(string text) => text.Length == 64 && text.All(char.IsAsciiHexDigitLower);

    public static byte[] Checked(byte[] content, string hash) =>
        Of(content) == hash
            ? content
            : throw new InvalidDataException($"The stored file {hash} was changed: its content has another hash.");
}
