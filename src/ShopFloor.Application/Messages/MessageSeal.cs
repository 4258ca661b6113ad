using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.DataProtection;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Messages;

/// <summary>To whom a message goes and what it says, as the office may read it: secret links are left out.</summary>
public sealed record MessageHead(string To, string Subject, string Text);

/// <summary>Encrypts what of messages must not lie readable in the database, with the program's own keys.</summary>
public sealed class MessageSeal(IDataProtectionProvider provider)
{
    private readonly IDataProtector password = provider.CreateProtector("ShopFloor.Mail.Password");
    private readonly IDataProtector mail = provider.CreateProtector("ShopFloor.Mail.Message");
    private readonly IDataProtector customer = provider.CreateProtector("ShopFloor.Mail.Unsubscribe");

    public string Password(string plain) => password.Protect(plain);

    /// <summary>Null where the keys that it was encrypted with are gone.</summary>
    public string? OpenPassword(string kept) => Try(() => password.Unprotect(kept));

    public byte[] Mail(byte[] plain) => mail.Protect(plain);

    public byte[]? OpenMail(byte[] kept) => Try(() => mail.Unprotect(kept));

    public string Head(MessageHead head) => mail.Protect(JsonSerializer.Serialize(head, StoredJson.Options));

    public MessageHead? OpenHead(string? kept) =>
        kept is null
            ? null
            : Try(() => JsonSerializer.Deserialize<MessageHead>(mail.Unprotect(kept), StoredJson.Options));

    /// <summary>The secret of a customer's link to choose messages by. It is nowhere stored: it is the encrypted id.</summary>
    public string Token(CustomerId id) => Base64Url.EncodeToString(customer.Protect(id.Value.ToByteArray()));

    /// <summary>Whose token it is; null for any other text.</summary>
    public CustomerId? OpenToken(string token)
    {
        if (token.Length > 400 || !Base64Url.IsValid(token))
        {
            return null;
        }

        var bytes = Try(() => customer.Unprotect(Base64Url.DecodeFromChars(token)));
        return bytes is { Length: 16 } ? new CustomerId(new Guid(bytes)) : null;
    }

    private static T? Try<T>(Func<T> open)
        where T : class?
    {
        try
        {
            return open();
        }
        catch (CryptographicException)
        {
            return null;
        }
    }
}

/// <summary>The address under which customers reach the shop, without a slash at its end.</summary>
public sealed record PublicAddress(string Root);
