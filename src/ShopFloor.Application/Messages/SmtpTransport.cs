using System.Net.Sockets;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>SMTP by MailKit. The server's certificate is checked (chain and name) wherever TLS is used; STARTTLS is demanded, not tried.</summary>
public sealed class SmtpTransport(TimeProvider clock) : IMailTransport
{
    /// <summary>For a whole try; shorter than <see cref="OutboxMessage.Lease"/>.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(60);

    private const int SocketMilliseconds = 30_000;

    public async Task<MailAnswer> SendAsync(MailServer server, ReadOnlyMemory<byte> mime, CancellationToken ct)
    {
        using var stream = new MemoryStream(mime.ToArray());
        using var message = await MimeMessage.LoadAsync(stream, ct);
        using var limit = new CancellationTokenSource(Limit, clock);
        using var both = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, ct);
        using var client = new SmtpClient { Timeout = SocketMilliseconds, CheckCertificateRevocation = false };
        try
        {
            await client.ConnectAsync(server.Host, server.Port, OptionsOf(server.Security), both.Token);
            if (server.User is { } user)
            {
                await client.AuthenticateAsync(user, server.Password ?? "", both.Token);
            }

            await client.SendAsync(message, both.Token);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return Trouble($"{server} did not answer within {Limit.TotalSeconds:0} seconds.");
        }
        catch (Exception exception) when (AnswerTo(exception, server) is { } answer)
        {
            return answer;
        }

        try
        {
            // It is taken; whether the farewell is heard changes nothing.
            await client.DisconnectAsync(true, both.Token);
        }
        catch (Exception exception)
            when (exception is IOException or ProtocolException or OperationCanceledException or SocketException) { }

        return MailAnswer.Taken;
    }

    private static MailAnswer? AnswerTo(Exception exception, MailServer server) =>
        exception switch
        {
            SmtpCommandException e => OfCommand(e),
            SslHandshakeException => Trouble(
                $"No secure connection to {server}: its certificate is not trusted, not valid now or made for another name, or this port does not begin with TLS. Check name, port and security."
            ),
            AuthenticationException => Trouble("The server refused the user or the password."),
            NotSupportedException => Trouble(
                server.Security == MailSecurity.StartTls
                    ? $"{server} offers no STARTTLS, so nothing was sent over an open line. Choose another port or security."
                    : $"{server} does not know the sign-in that is needed: {exception.Message}"
            ),
            SocketException
            {
                SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain
            } => Trouble($"There is no server called {server.Host}. Check its name."),
            SocketException { SocketErrorCode: SocketError.ConnectionRefused } => Trouble(
                $"Nothing answers at {server}. Check name and port."
            ),
            SocketException => Trouble($"{server} cannot be reached: {exception.Message}"),
            TimeoutException => Trouble($"{server} did not answer in time."),
            SmtpProtocolException or ServiceNotConnectedException or IOException => Trouble(
                $"The connection to {server} broke off or it does not speak SMTP. Check port and security."
            ),
            _ => null,
        };

    /// <summary>RFC 5321, 4.2.1: codes from 500 are final, those from 400 are not.</summary>
    private static MailAnswer OfCommand(SmtpCommandException e)
    {
        var what = e.ErrorCode switch
        {
            SmtpErrorCode.RecipientNotAccepted => "The server does not take mail for this address",
            SmtpErrorCode.SenderNotAccepted => "The server does not send for the shop's sender address",
            SmtpErrorCode.MessageNotAccepted => "The server did not take the message",
            _ => "The server refused",
        };
        var text = $"{what} ({(int)e.StatusCode}: {e.Message})";
        // A sender that is not accepted is mended by the settings, for all messages.
        return
            (int)e.StatusCode >= 500
            && e.ErrorCode is SmtpErrorCode.RecipientNotAccepted or SmtpErrorCode.MessageNotAccepted
            ? new MailAnswer(MailResult.Refused, text)
            : Trouble(text);
    }

    private static MailAnswer Trouble(string sentence) => new(MailResult.Trouble, sentence);

    private static SecureSocketOptions OptionsOf(MailSecurity security) =>
        security switch
        {
            MailSecurity.StartTls => SecureSocketOptions.StartTls,
            MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
            _ => SecureSocketOptions.None,
        };
}
