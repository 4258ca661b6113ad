using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.DataProtection;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>One sentence carried from a form's answer to the page it leads back to.</summary>
public sealed record SpokenMessage(string Text, bool IsProblem);

/// <summary>Seals such sentences for a short while, so that nobody can make the page say what the shop did not.</summary>
public sealed class SpokenMessages(IDataProtectionProvider protection)
{
    /// <summary>More than this is cut off; it travels in the address.</summary>
    public const int Longest = 600;

    private static readonly TimeSpan Life = TimeSpan.FromMinutes(10);
    private readonly ITimeLimitedDataProtector protector = protection
        .CreateProtector("ShopFloor.Inspection.Messages")
        .ToTimeLimitedDataProtector();

    public string Seal(SpokenMessage message)
    {
        var text = message.Text.Length <= Longest ? message.Text : message.Text[..Longest] + "…";
        return protector.Protect(JsonSerializer.Serialize(message with { Text = text }), Life);
    }

    /// <summary>Null for no, a foreign or an old message.</summary>
    public SpokenMessage? Open(string? sealedText)
    {
        if (string.IsNullOrEmpty(sealedText) || sealedText.Length > 8 * Longest)
        {
            return null;
        }

        try
        {
            return JsonSerializer.Deserialize<SpokenMessage>(protector.Unprotect(sealedText));
        }
        catch (CryptographicException)
        {
            return null;
        }
    }
}
