using System.Buffers.Text;
using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;
using OtpNet;

namespace ShopFloor.Application.SignIns;

/// <summary>Secrets of signing in: links, codes on paper, and the codes of authenticator apps (RFC 6238: SHA-1, six digits, 30 seconds, which is what the apps know).</summary>
public sealed class SignInSecrets(IDataProtectionProvider provider)
{
    /// <summary>Without letters and digits that are taken for one another.</summary>
    private const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";
    private const int RecoveryLength = 24;
    private const int SecretBytes = 20;

    /// <summary>One code before and one after, for clocks that differ (RFC 6238, 5.2, allows one step for the network's delay).</summary>
    private static readonly VerificationWindow Window = new(previous: 1, future: 1);

    private readonly IDataProtector factor = provider.CreateProtector("ShopFloor.SignIn.SecondFactor");

    public static string NewToken() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    /// <summary>Twenty-four signs of 32: 120 bits.</summary>
    public static string NewRecoveryCode() => RandomNumberGenerator.GetString(Alphabet, RecoveryLength);

    /// <summary>In groups of six, as it is written down.</summary>
    public static string Said(string code) => string.Join('-', code.Chunk(6).Select(c => new string(c)));

    /// <summary>Whether something typed can only be a code from paper.</summary>
    public static bool IsRecoveryCode(string typed) => typed.Length == RecoveryLength;

    public static byte[] NewSecret() => RandomNumberGenerator.GetBytes(SecretBytes);

    /// <summary>As apps take it where the picture cannot be read: base 32 (RFC 4648), in groups of four.</summary>
    public static string Said(byte[] secret) =>
        string.Join(' ', Base32Encoding.ToString(secret).TrimEnd('=').Chunk(4).Select(c => new string(c)));

    /// <summary>The address that the picture holds, by which apps take the secret over.</summary>
    public static string UriOf(byte[] secret, string shop, string email) =>
        $"otpauth://totp/{Uri.EscapeDataString($"{shop}:{email}")}?secret={Base32Encoding.ToString(secret).TrimEnd('=')}&issuer={Uri.EscapeDataString(shop)}";

    /// <summary>The time step at which a code is right, or null where it is not at this moment.</summary>
    public static long? StepOf(byte[] secret, string code, DateTimeOffset now) =>
        code.Length == 6
        && code.All(char.IsAsciiDigit)
        && new Totp(secret).VerifyTotp(now.UtcDateTime, code, out var step, Window)
            ? step
            : null;

    public string Protect(byte[] secret) => factor.Protect(Convert.ToBase64String(secret));

    /// <exception cref="CryptographicException">The program's keys are not those it was encrypted with.</exception>
    public byte[] Unprotect(string stored) => Convert.FromBase64String(factor.Unprotect(stored));
}
