using System.Net;
using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Messages;

/// <summary>How the way to the mail server is secured.</summary>
public enum MailSecurity
{
    /// <summary>Begins plain and turns to TLS before anything is said (RFC 3207); usually port 587.</summary>
    StartTls,

    /// <summary>TLS from the first byte (RFC 8314); usually port 465.</summary>
    Tls,

    /// <summary>Plain; only to a server on this machine.</summary>
    None,
}

/// <summary>The mail server that the shop's messages go out by.</summary>
public sealed partial class MailSettings : IVersioned
{
    /// <summary>There is one set of them.</summary>
    public static readonly MailSettingsId Only = new(new Guid("0197a000-0000-7000-8000-00000000a11e"));

    public const int LongestPassword = 500;

    private MailSettings() { }

    public MailSettingsId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>Messages go out; else they wait.</summary>
    public bool IsOn { get; private set; }
    public string Host { get; private set; } = "";
    public int Port { get; private set; }
    public MailSecurity Security { get; private set; }
    public string? User { get; private set; }

    /// <summary>Encrypted; never shown.</summary>
    public string? SealedPassword { get; private set; }
    public string SenderName { get; private set; } = "";
    public string SenderAddress { get; private set; } = "";
    public string? ReplyTo { get; private set; }

    /// <summary>What a person fills in; names match the API's field names.</summary>
    /// <param name="Security"><c>startTls</c>, <c>tls</c> or <c>none</c>.</param>
    /// <param name="Password">Null: as it is. Empty: none.</param>
    public sealed record Details(
        bool IsOn,
        string? Host,
        int? Port,
        string? Security,
        string? User,
        string? Password,
        string? SenderName,
        string? SenderAddress,
        string? ReplyTo
    );

    public static MailSettings Empty() => new() { Id = Only };

    /// <summary>Takes what was filled in, or says all that is wrong with it.</summary>
    /// <param name="seal">Encrypts the password.</param>
    public Outcome<Done> Change(Details details, Func<string, string> seal)
    {
        var errors = new FieldErrors();
        var host = TextRules.Required(details.Host, "host", "The mail server's name", TextRules.ShortText, errors);
        errors.AddIf(
            host.Length > 0 && !HostForm().IsMatch(host) && !IPAddress.TryParse(host, out _),
            "host",
            "Give the server's name or address alone, such as mail.example.org."
        );
        errors.AddIf(
            details.Port is null or < 1 or > 65_535,
            "port",
            "A port is a number from 1 to 65535, usually 587."
        );
        MailSecurity? security = details.Security switch
        {
            "startTls" => MailSecurity.StartTls,
            "tls" => MailSecurity.Tls,
            "none" => MailSecurity.None,
            _ => null,
        };
        errors.AddIf(security is null, "security", "The security is startTls, tls or none.");
        errors.AddIf(
            security == MailSecurity.None && !IsThisMachine(host),
            "security",
            "Without TLS anybody on the way could read the messages and the password: that is allowed only to a server on this machine (localhost)."
        );
        var user = TextRules.Optional(details.User, "user", "The user", TextRules.ShortText, errors);
        errors.AddIf(user?.Any(char.IsControl) == true, "user", "The user is one line.");
        errors.AddIf(
            details.Password?.Length > LongestPassword || details.Password?.Any(char.IsControl) == true,
            "password",
            $"A password is one line of at most {LongestPassword} characters."
        );
        errors.AddIf(
            user is not null && details.Password is null && SealedPassword is null,
            "password",
            "Give the password that belongs to the user."
        );
        // A password is handed only to the server that it was given for.
        errors.AddIf(
            details.Password is null && SealedPassword is not null && user is not null && host != Host && Host != "",
            "password",
            "The server was changed: give the password again, so that it goes to no server it was not meant for."
        );
        var name = TextRules.Required(details.SenderName, "senderName", "The sender's name", TextRules.Name, errors);
        errors.AddIf(name.Any(char.IsControl), "senderName", "The sender's name is one line.");
        var sender = MailAddresses.Optional(details.SenderAddress, "senderAddress", "The sender's address", errors);
        errors.AddIf(
            string.IsNullOrWhiteSpace(details.SenderAddress),
            "senderAddress",
            "The sender's address is needed."
        );
        var reply = MailAddresses.Optional(details.ReplyTo, "replyTo", "The address for answers", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (IsOn, Host, Port, Security, User) = (details.IsOn, host, details.Port!.Value, security!.Value, user);
        (SenderName, SenderAddress, ReplyTo) = (name, sender!, reply);
        SealedPassword =
            user is null || details.Password is "" ? null
            : details.Password is { } given ? seal(given)
            : SealedPassword;
        return Outcome.Ok;
    }

    private static bool IsThisMachine(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address));

    [GeneratedRegex(@"\A[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?(\.[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?)*\z")]
    private static partial Regex HostForm();
}
