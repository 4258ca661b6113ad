using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.DataProtection;

namespace ShopFloor.Application.Integrations;

/// <summary>The secrets of webhooks, and signing with them by Standard Webhooks 1.0.0, "Signature scheme": HMAC-SHA256 over id, time and body.</summary>
public sealed class WebhookSecrets(IDataProtectionProvider provider)
{
    private const string Prefix = "whsec_";

    /// <summary>The specification asks for at least 24.</summary>
    private const int Bytes = 32;
    private readonly IDataProtector box = provider.CreateProtector("ShopFloor.Webhook.Secret");

    /// <summary>A new one, as the other program takes it: <c>whsec_</c> and base 64.</summary>
    public static string New() => Prefix + Convert.ToBase64String(RandomNumberGenerator.GetBytes(Bytes));

    public string Seal(string secret) => box.Protect(secret);

    /// <summary>Null where the keys that it was encrypted with are gone.</summary>
    public string? Open(string kept)
    {
        try
        {
            return box.Unprotect(kept);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    /// <summary>The <c>webhook-signature</c>.</summary>
    /// <param name="secret">As <see cref="New"/> made it.</param>
    /// <param name="messageId">The <c>webhook-id</c>; without full stops.</param>
    /// <param name="at">The <c>webhook-timestamp</c>, in whole seconds.</param>
    /// <param name="body">What is sent, byte for byte.</param>
    public static string Sign(string secret, string messageId, DateTimeOffset at, string body)
    {
        var content = string.Create(CultureInfo.InvariantCulture, $"{messageId}.{at.ToUnixTimeSeconds()}.{body}");
        var hash = HMACSHA256.HashData(
            Convert.FromBase64String(secret[Prefix.Length..]),
            Encoding.UTF8.GetBytes(content)
        );
        return $"v1,{Convert.ToBase64String(hash)}";
    }
}
