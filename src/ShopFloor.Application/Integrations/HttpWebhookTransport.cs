using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Text;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Application.Integrations;

/// <summary>Posts by HTTP. The name is looked up once, each of its addresses is held against <see cref="ReachableNetworks"/>, and the connection goes to just that address, so that a name cannot lead elsewhere between the look and the call. No redirects are followed, no proxy, no cookies; of the answer only its status is read.</summary>
public sealed class HttpWebhookTransport : IWebhookTransport, IDisposable
{
    private static readonly TimeSpan ConnectLimit = TimeSpan.FromSeconds(5);
    private readonly ReachableNetworks networks;
    private readonly HttpClient client;

    public HttpWebhookTransport(ReachableNetworks networks)
    {
        this.networks = networks;
        client = new HttpClient(
            new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseProxy = false,
                UseCookies = false,
                ConnectTimeout = ConnectLimit,
                ConnectCallback = ConnectAsync,
                // A kept connection would outlive the look at where the name leads.
                PooledConnectionLifetime = TimeSpan.Zero,
                MaxResponseHeadersLength = 16,
            }
        )
        {
            Timeout = WebhookDelivery.Limit,
        };
    }

    public async Task<WebhookAnswer> PostAsync(WebhookPost post, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(post);
        using var request = new HttpRequestMessage(HttpMethod.Post, post.Address)
        {
            Content = new StringContent(post.Body, Encoding.UTF8, new MediaTypeHeaderValue("application/json")),
        };
        request.Headers.Add("webhook-id", post.Id);
        request.Headers.Add("webhook-timestamp", post.At.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", post.Signature);
        request.Headers.UserAgent.ParseAdd("ShopFloor");
        try
        {
            using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, ct);
            var status = (int)response.StatusCode;
            return new WebhookAnswer(
                status,
                response.IsSuccessStatusCode ? null
                    : status is >= 300 and < 400 ? $"It answered {status}, that it is elsewhere: enter the new address."
                    : $"It answered {status}."
            );
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return new WebhookAnswer(null, $"No answer within {WebhookDelivery.Limit.TotalSeconds:0} seconds.");
        }
        catch (HttpRequestException exception)
        {
            return new WebhookAnswer(null, Sentence(exception));
        }
    }

    private static string Sentence(HttpRequestException exception) =>
        exception switch
        {
            { InnerException: UnreachableException unreachable } => unreachable.Message,
            { InnerException: AuthenticationException } =>
                "No secure connection: its certificate is not trusted, not valid now or made for another name.",
            { HttpRequestError: HttpRequestError.NameResolutionError } => "There is no such name.",
            { HttpRequestError: HttpRequestError.ConnectionError } => "Nothing answers at that address.",
            _ => "The connection broke off.",
        };

    private async ValueTask<Stream> ConnectAsync(SocketsHttpConnectionContext context, CancellationToken ct)
    {
        var isEncrypted = context.InitialRequestMessage.RequestUri!.Scheme == Uri.UriSchemeHttps;
        var found = IPAddress.TryParse(context.DnsEndPoint.Host.Trim('[', ']'), out var literal)
            ? [literal]
            : await Dns.GetHostAddressesAsync(context.DnsEndPoint.Host, ct);
        var allowed = found.Where(a => networks.MayReach(a, isEncrypted)).ToArray();
        if (allowed.Length == 0)
        {
            throw new UnreachableException(
                isEncrypted || found.Any(networks.IsOpened) || !found.Any(ReachableNetworks.IsPublic)
                    ? "The address lies in a private network, which this server may not reach. Whoever runs it can open that network (SHOPFLOOR_WEBHOOK_NETWORKS)."
                    : "The address begins with http: only https is sent to outside of networks that whoever runs the server has opened."
            );
        }

        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(allowed, context.DnsEndPoint.Port, ct);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    public void Dispose() => client.Dispose();

    /// <summary>It may not be reached; the message is for people.</summary>
    private sealed class UnreachableException(string message) : IOException(message);
}
