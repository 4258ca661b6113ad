using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using MimeKit;
using ShopFloor.Web.Tests.Fixtures;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace ShopFloor.Web.Tests.Messages;

/// <summary>A real SMTP server in the test, which keeps what it is sent.</summary>
internal sealed class MailCatcher : MessageStore, IMailboxFilter, IUserAuthenticator, IAsyncDisposable
{
    private readonly CancellationTokenSource stop = new();
    private readonly X509Certificate2? certificate;
    private readonly Task running;

    /// <param name="isSecured">Offers STARTTLS with a certificate that nobody trusts.</param>
    public MailCatcher(bool isSecured = false)
    {
        certificate = isSecured ? SelfSigned() : null;
        var options = new SmtpServerOptionsBuilder()
            .ServerName("localhost")
            .Endpoint(e =>
            {
                e.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)).AllowUnsecureAuthentication();
                if (certificate is not null)
                {
                    e.Certificate(certificate);
                }
            })
            .Build();
        var services = new SmtpServer.ComponentModel.ServiceProvider();
        services.Add((IMessageStore)this);
        services.Add((IMailboxFilter)this);
        services.Add((IUserAuthenticator)this);
        running = new SmtpServer.SmtpServer(options, services).StartAsync(stop.Token);
    }

    public int Port { get; } = Ports.Free();

    public ConcurrentQueue<MimeMessage> Caught { get; } = new();

    /// <summary>The only password that is taken.</summary>
    public string Password { get; } = "right";

    /// <summary>An address that is refused for good.</summary>
    public string? Refused { get; set; }

    /// <summary>Keeps the sender waiting for the answer to what it has sent, until it is completed.</summary>
    public TaskCompletionSource? Held { get; set; }

    /// <summary>Completed when the next message is there (before it is answered).</summary>
    public TaskCompletionSource<MimeMessage> Next { get; set; } =
        new(TaskCreationOptions.RunContinuationsAsynchronously);

    public IEnumerable<MimeMessage> To(string address) =>
        Caught.Where(m => m.To.Mailboxes.Any(t => t.Address == address));

    public object Settings(bool isOn = true, string? user = null, string? password = null) =>
        new
        {
            isOn,
            host = "127.0.0.1",
            port = Port,
            security = "none",
            user,
            password,
            senderName = "Test Works",
            senderAddress = "desk@works.example",
            replyTo = "answers@works.example",
        };

    public override async Task<SmtpResponse> SaveAsync(
        ISessionContext context,
        IMessageTransaction transaction,
        ReadOnlySequence<byte> buffer,
        CancellationToken cancellationToken
    )
    {
        using var stream = new MemoryStream(buffer.ToArray());
        var message = await MimeMessage.LoadAsync(stream, CancellationToken.None);
        Caught.Enqueue(message);
        Next.TrySetResult(message);
        if (Held is { } held)
        {
            await held.Task.WaitAsync(stop.Token);
        }

        return SmtpResponse.Ok;
    }

    public Task<bool> CanAcceptFromAsync(
        ISessionContext context,
        IMailbox from,
        int size,
        CancellationToken cancellationToken
    ) => Task.FromResult(true);

    public Task<bool> CanDeliverToAsync(
        ISessionContext context,
        IMailbox to,
        IMailbox from,
        CancellationToken cancellationToken
    ) => Task.FromResult(to.AsAddress() != Refused);

    public Task<bool> AuthenticateAsync(
        ISessionContext context,
        string user,
        string password,
        CancellationToken cancellationToken
    ) => Task.FromResult(password == Password);

    public async ValueTask DisposeAsync()
    {
        Held?.TrySetResult();
        await stop.CancelAsync();
        try
        {
            await running;
        }
        catch (OperationCanceledException)
        {
            // That is how it ends.
        }

        stop.Dispose();
        certificate?.Dispose();
    }

    private static X509Certificate2 SelfSigned()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        using var made = request.CreateSelfSigned(
            new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero),
            new DateTimeOffset(2060, 1, 1, 0, 0, 0, TimeSpan.Zero)
        );
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null);
    }
}
