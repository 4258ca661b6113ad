using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>nginx with the configuration of <c>deploy/nginx</c>, before two servers; only ports, names of files and the list of servers are put in.</summary>
internal sealed class Proxy : IAsyncDisposable
{
    private const string Host = "shop.lan";
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-proxy").FullName;
    private readonly int port = Ports.Free();
    private Process? process;

    public string Url => string.Create(CultureInfo.InvariantCulture, $"https://{Host}:{port}");

    private static string Program => Environment.GetEnvironmentVariable("NGINX_PROGRAM") ?? "/usr/sbin/nginx";

    public async Task StartAsync(params Uri[] servers)
    {
        Assert.True(File.Exists(Program), $"No nginx at {Program}: run ./test.sh, which installs it.");
        WriteCertificate();
        var shipped = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "deploy", "nginx", "shopfloor.conf"));
        var site = shipped
            .Replace("listen 80;", $"listen 127.0.0.1:{Ports.Free()};", StringComparison.Ordinal)
            .Replace("listen 443 ", $"listen 127.0.0.1:{port} ", StringComparison.Ordinal)
            .Replace(
                "server 127.0.0.1:5080 max_fails=0;",
                string.Join(' ', servers.Select(s => $"server 127.0.0.1:{s.Port} max_fails=0;")),
                StringComparison.Ordinal
            )
            .Replace("/etc/nginx/tls", folder, StringComparison.Ordinal)
            .Replace("/var/log/nginx", folder, StringComparison.Ordinal);
        Assert.DoesNotContain("5080", site.Split("# A second")[0], StringComparison.Ordinal);
        await File.WriteAllTextAsync(Path.Combine(folder, "site.conf"), site);
        var temporary = string.Join(
            ' ',
            ((string[])["client_body", "proxy", "fastcgi", "uwsgi", "scgi"]).Select(t => $"{t}_temp_path {folder}/{t};")
        );
        await File.WriteAllTextAsync(
            Path.Combine(folder, "nginx.conf"),
            $"daemon off; pid {folder}/pid; error_log {folder}/error.log; events {{}} http {{ {temporary} include {folder}/site.conf; }}"
        );
        process = Process.Start(
            new ProcessStartInfo(Program, ["-p", folder, "-c", Path.Combine(folder, "nginx.conf")])
        )!;
        using var client = Client();
        for (var attempt = 0; attempt < 300; attempt++)
        {
            try
            {
                using var answer = await client.GetAsync(new Uri("/health/live", UriKind.Relative));
                return;
            }
            catch (HttpRequestException)
            {
                Assert.False(process.HasExited, "nginx ended by itself.");
                await Task.Delay(TimeSpan.FromMilliseconds(100), TestContext.Current.CancellationToken);
            }
        }

        Assert.Fail("nginx did not answer.");
    }

    /// <summary>A client that finds the proxy under the shop's name.</summary>
    public HttpClient Client()
    {
        var handler = new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            UseCookies = false,
            ConnectCallback = async (_, ct) =>
            {
                var socket = new System.Net.Sockets.Socket(
                    System.Net.Sockets.SocketType.Stream,
                    System.Net.Sockets.ProtocolType.Tcp
                );
                await socket.ConnectAsync(System.Net.IPAddress.Loopback, port, ct);
                return new System.Net.Sockets.NetworkStream(socket, ownsSocket: true);
            },
        };
        // The certificate was made a moment ago, by nobody a machine would trust.
#pragma warning disable CA5359
        handler.SslOptions.RemoteCertificateValidationCallback = (_, _, _, _) => true;
#pragma warning restore CA5359
        return new HttpClient(handler) { BaseAddress = new Uri(Url) };
    }

    private void WriteCertificate()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest($"CN={Host}", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var now = TimeProvider.System.GetUtcNow();
        using var certificate = request.CreateSelfSigned(now.AddDays(-1), now.AddDays(1));
        File.WriteAllText(Path.Combine(folder, "shop.lan.crt"), certificate.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "shop.lan.key"), key.ExportPkcs8PrivateKeyPem());
    }

    public async ValueTask DisposeAsync()
    {
        if (process is not null)
        {
            // Its workers go with it.
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
            process.Dispose();
        }

        Directory.Delete(folder, recursive: true);
    }
}
