using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Mvc.Testing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>One server of the demo shop on a real port; several share a PostgreSQL database and nothing else.</summary>
internal sealed partial class LiveServer : WebApplicationFactory<Web.Features.Workbench.TubeEndpoints>
{
    /// <summary>Of everybody in the demo shop here.</summary>
    public const string Password = "correct horse battery";
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-live").FullName;
    private readonly string? postgres;
    private readonly int port = Ports.Free();

    /// <param name="postgres">Connection string; null for SQLite.</param>
    public static LiveServer Open(string? postgres)
    {
        var server = new LiveServer(postgres);
        server.StartServer();
        return server;
    }

    private LiveServer(string? postgres)
    {
        this.postgres = postgres;
        UseKestrel(port);
    }

    public string Url => $"http://localhost:{port}";

    /// <summary>A device on which somebody has signed in by the form.</summary>
    public Task<HttpClient> DeviceAsync(string email) => DeviceAsync(Url, email);

    /// <summary>The same for a server wherever it runs.</summary>
    public static async Task<HttpClient> DeviceAsync(string url, string email)
    {
        var handler = new SocketsHttpHandler { AllowAutoRedirect = false, CookieContainer = new CookieContainer() };
        var client = new HttpClient(handler) { BaseAddress = new Uri(url), Timeout = TimeSpan.FromMinutes(5) };
        var page = await client.GetStringAsync(new Uri("/sign-in", UriKind.Relative));
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(page).Groups[1].Value),
            new("_handler", "sign-in"),
            new("Input.Email", email),
            new("Input.Password", Password),
        ]);
        using var answer = await client.PostAsync(new Uri("/sign-in", UriKind.Relative), form);
        return answer.StatusCode == HttpStatusCode.Redirect
            ? client
            : throw new InvalidOperationException($"Sign-in was answered by {answer.StatusCode}.");
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseContentRoot(AppContext.BaseDirectory);
        builder.UseEnvironment("Development");
        builder.UseSetting("SHOPFLOOR_DATA", folder);
        builder.UseSetting("SHOPFLOOR_PUBLIC_URL", $"http://localhost:{port}");
        builder.UseSetting("SHOPFLOOR_DEMO_PASSWORD", Password);
        builder.UseSetting("Logging:LogLevel:Default", "Error");
        if (postgres is not null)
        {
            builder.UseSetting("SHOPFLOOR_DATABASE", "postgres");
            builder.UseSetting("ConnectionStrings:ShopFloor", postgres);
        }
    }

    protected override void Dispose(bool disposing)
    {
        base.Dispose(disposing);
        if (disposing && Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
