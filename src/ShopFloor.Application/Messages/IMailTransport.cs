using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>The way to a mail server, with the password in the open; lives only as long as a try.</summary>
public sealed record MailServer(string Host, int Port, MailSecurity Security, string? User, string? Password)
{
    public override string ToString() => $"{Host}:{Port}";
}

public enum MailResult
{
    /// <summary>The server has taken it.</summary>
    Taken,

    /// <summary>The server will not take this message, however often it is tried.</summary>
    Refused,

    /// <summary>Not now: the way, the sign-in or the server had trouble.</summary>
    Trouble,
}

/// <param name="Sentence">What went wrong, for people; empty where nothing did.</param>
public sealed record MailAnswer(MailResult Result, string Sentence)
{
    public static readonly MailAnswer Taken = new(MailResult.Taken, "");
}

/// <summary>Hands a mail to a server.</summary>
public interface IMailTransport
{
    /// <param name="mime">The whole mail by RFC 5322; sender and receivers stand in it.</param>
    Task<MailAnswer> SendAsync(MailServer server, ReadOnlyMemory<byte> mime, CancellationToken ct);
}
