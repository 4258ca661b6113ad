using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>What an address, e-mail, phone and language may look like: loose enough for any country, tight enough to catch a slip.</summary>
public static partial class ContactRules
{
    public const int AddressLines = 6;

    /// <summary>RFC 5321, 4.5.3.1.3: a path of 256 octets with its angle brackets.</summary>
    public const int Email = 254;
    public const int Phone = 40;
    public const int TaxNumber = 40;
    public const int Language = 16;
    public const string DefaultLanguage = "en";

    internal static IReadOnlyList<string> CleanAddress(IReadOnlyList<string?>? lines, string path, FieldErrors errors)
    {
        List<string> clean = [];
        var entered = lines ?? [];
        for (var i = 0; i < entered.Count && i <= AddressLines; i++)
        {
            if (TextRules.Optional(entered[i], $"{path}[{i}]", "The address line", TextRules.Name, errors) is { } line)
            {
                clean.Add(line);
            }
        }

        errors.AddIf(
            entered.Count > AddressLines,
            path,
            $"An address has at most {AddressLines} lines; this one has {entered.Count}."
        );
        return clean;
    }

    internal static string? CleanEmail(string? text, string path, FieldErrors errors)
    {
        var clean = TextRules.Optional(text, path, "The e-mail address", Email, errors);
        if (clean is not null && !EmailForm().IsMatch(clean))
        {
            errors.Add(path, $"'{clean}' is no e-mail address. Write it as name@example.org.");
        }

        return clean;
    }

    internal static string? CleanPhone(string? text, string path, FieldErrors errors)
    {
        var clean = TextRules.Optional(text, path, "The phone number", Phone, errors);
        if (clean is not null && (!PhoneForm().IsMatch(clean) || clean.Count(char.IsAsciiDigit) < 3))
        {
            errors.Add(path, $"'{clean}' is no phone number. Use digits, spaces and + ( ) - / . only.");
        }

        return clean;
    }

    internal static string CleanLanguage(string? text, string path, FieldErrors errors)
    {
        var clean = TextRules.Optional(text, path, "The language", Language, errors) ?? DefaultLanguage;
        errors.AddIf(
            !LanguageForm().IsMatch(clean),
            path,
            $"'{clean}' is no language tag. Use one such as en, de or fr-CA."
        );
        return clean;
    }

    [GeneratedRegex(@"^[^@\s]+@[^@\s.]+(\.[^@\s.]+)*$")]
    private static partial Regex EmailForm();

    [GeneratedRegex(@"^[0-9+()\-/. x]+$")]
    private static partial Regex PhoneForm();

    [GeneratedRegex("^[a-zA-Z]{2,3}(-[a-zA-Z0-9]{2,8})*$")]
    private static partial Regex LanguageForm();
}
