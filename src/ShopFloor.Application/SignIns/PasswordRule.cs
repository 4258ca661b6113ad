using System.Security.Cryptography;
using System.Text;
using ShopFloor.Application.Common;

namespace ShopFloor.Application.SignIns;

/// <summary>What a password must be: long enough, not the person's own words, and not among those that are known to have leaked. Composition is not asked for (NIST SP 800-63B; OWASP ASVS 5.0, 6.2).</summary>
public sealed class PasswordRule(BreachedPasswords breached)
{
    /// <summary>Length over composition: long enough is what matters.</summary>
    public const int Shortest = 10;
    public const int Longest = 128;

    private static readonly string[] Expected =
    [
        "password",
        "passwort",
        "contraseña",
        "shopfloor",
        "qwertyuiop",
        "1234567890",
    ];

    /// <summary>Why it cannot be taken, for the person who chose it; null where it can.</summary>
    /// <param name="password">As typed; nothing is cut off or changed.</param>
    /// <param name="own">Words of the person's that others know: name, address.</param>
    public string? Problem(string? password, params IEnumerable<string?> own)
    {
        if (password is not { Length: >= Shortest and <= Longest })
        {
            return $"A password has {Shortest} to {Longest} characters; a few words in a row are best.";
        }

        if (password.Distinct().Count() < 4)
        {
            return "This repeats too few different characters. A few words in a row are best.";
        }

        // A known word may be part of it, if enough is left that is not known.
        foreach (var word in own.OfType<string>().SelectMany(Words).Concat(Expected))
        {
            if (password.Replace(word, "", StringComparison.OrdinalIgnoreCase).Length < Shortest / 2)
            {
                return "This is little more than a word that others would try first. A few words in a row are best.";
            }
        }

        return breached.Has(password)
            ? "This password is in a list of passwords that have leaked elsewhere, and is tried first by whoever has that list. Choose another."
            : null;
    }

    private static IEnumerable<string> Words(string text) =>
        text.Split([' ', '@', '.', ','], StringSplitOptions.RemoveEmptyEntries).Append(text).Where(w => w.Length >= 4);
}

/// <summary>A file of passwords that have leaked, as SHA-1 hashes: one line each, in upper-case hexadecimal digits, sorted, followed by anything after a colon. It may be of any size: it is searched where it lies.</summary>
/// <param name="path">Null: there is none, and every password passes.</param>
public sealed class BreachedPasswords(string? path)
{
    private const int HashLength = 40;

    /// <summary>Longest line that is read; more is cut.</summary>
    private const int LineLength = 128;

    public bool IsThere => path is not null;

    /// <summary>Whether the file holds the password's hash.</summary>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public bool Has(string password)
    {
        if (path is null)
        {
            return false;
        }

#pragma warning disable CA5350 // Such lists are made of SHA-1; nothing is protected by it here.
        var wanted = Convert.ToHexString(SHA1.HashData(Encoding.UTF8.GetBytes(password)));
#pragma warning restore CA5350
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1);
        // Invariant: the line, if it is there, begins at or after low and before high.
        long low = 0;
        var high = file.Length;
        while (low < high)
        {
            var middle = low + ((high - low) / 2);
            var (start, line, next) = LineFrom(file, middle, low);
            if (line.Length < HashLength)
            {
                // Nothing whole begins between the middle and the end: look in the half before.
                high = middle;
                continue;
            }

            switch (string.CompareOrdinal(line[..HashLength].ToUpperInvariant(), wanted))
            {
                case 0:
                    return true;
                case < 0:
                    low = next;
                    break;
                default:
                    high = start > middle ? middle : start;
                    break;
            }
        }

        return false;
    }

    /// <summary>The first line that begins at or after a place; the line at <paramref name="low"/> begins there.</summary>
    private static (long Start, string Line, long Next) LineFrom(FileStream file, long place, long low)
    {
        var start = place;
        if (place > low)
        {
            file.Position = place - 1;
            int sign;
            while ((sign = file.ReadByte()) >= 0 && sign != '\n')
            {
                start++;
            }

            if (sign < 0)
            {
                return (file.Length, "", file.Length);
            }
        }

        file.Position = start;
        var buffer = new byte[LineLength];
        var read = file.ReadAtLeast(buffer, LineLength, throwOnEndOfStream: false);
        var end = buffer.AsSpan(0, read).IndexOf((byte)'\n');
        var length = end < 0 ? read : end;
        return (start, Encoding.ASCII.GetString(buffer, 0, length).TrimEnd('\r'), start + length + (end < 0 ? 0 : 1));
    }
}
