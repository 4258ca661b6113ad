using System.Security.Cryptography;
using System.Text;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>Secrets of upload links: 32 random bytes, shown once; only their hash is kept.</summary>
internal static class LinkTokens
{
    // base64url of 32 bytes, without padding.
    private const int Length = 43;

    public static string New() =>
        Convert
            .ToBase64String(RandomNumberGenerator.GetBytes(UploadLink.TokenBytes))
            .TrimEnd('=')
            .Replace('+', '-')
            .Replace('/', '_');

    /// <summary>Null where the text cannot be a token at all.</summary>
    public static string? HashOf(string? token) =>
        token is { Length: Length } && token.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_')
            ? Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(token)))
            : null;
}
