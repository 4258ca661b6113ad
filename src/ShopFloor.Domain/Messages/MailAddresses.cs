using System.Globalization;
using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Messages;

/// <summary>Addresses that mail can be sent to: the plain form of RFC 5321 (4.1.2, dot-string) in ASCII, so that no character of it can end a header or an envelope.</summary>
public static partial class MailAddresses
{
    /// <summary>RFC 5321, 4.5.3.1.3: a path of 256 octets with its angle brackets.</summary>
    public const int Longest = 254;

    /// <summary>The address with its domain in ASCII; null where mail cannot be sent to it.</summary>
    public static string? Read(string? text)
    {
        var clean = text?.Trim() ?? "";
        var at = clean.LastIndexOf('@');
        if (at is < 1 || clean.Length > Longest)
        {
            return null;
        }

        try
        {
            var whole = $"{clean[..at]}@{new IdnMapping().GetAscii(clean[(at + 1)..])}";
            return whole.Length <= Longest && Form().IsMatch(whole) ? whole : null;
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    public static string? Optional(string? text, string path, string label, FieldErrors errors)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        var address = Read(text);
        errors.AddIf(address is null, path, $"{label} is no e-mail address. Write it as name@example.org.");
        return address;
    }

    public static string Domain(string address) => address[(address.LastIndexOf('@') + 1)..];

    [GeneratedRegex(
        @"\A[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*@[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?(\.[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?)*\z"
    )]
    private static partial Regex Form();
}
