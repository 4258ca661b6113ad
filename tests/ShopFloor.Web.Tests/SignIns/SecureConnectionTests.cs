using System.Net;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.Configuration;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Fixtures;
using HostSettings = ShopFloor.Web.Hosting.Settings;

namespace ShopFloor.Web.Tests.SignIns;

/// <summary>A shop that a proxy at 192.0.2.7 serves by https.</summary>
public sealed class ProxiedShop : ShopHost
{
    public override string Kind => "sqlite";

    protected override Task<string?> NewConnectionAsync() => Task.FromResult<string?>(null);

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        base.ConfigureWebHost(builder);
        builder.UseSetting("SHOPFLOOR_TRUSTED_PROXIES", "192.0.2.7, 198.51.100.0/24");
        // Whoever sets the framework's own switch does not open the door by it.
        builder.UseSetting("FORWARDEDHEADERS_ENABLED", "true");
    }

    /// <summary>Asks for a page as a proxy (or anybody) at this address does.</summary>
    public Task<HttpContext> AskAsync(string from, string path, string? forwardedFor, string? proto) =>
        Server.SendAsync(c =>
        {
            c.Connection.RemoteIpAddress = IPAddress.Parse(from);
            c.Request.Method = "GET";
            c.Request.Scheme = "http";
            c.Request.Host = new HostString("elsewhere.example");
            c.Request.Path = path;
            if (forwardedFor is not null)
            {
                c.Request.Headers["X-Forwarded-For"] = forwardedFor;
            }

            if (proto is not null)
            {
                c.Request.Headers["X-Forwarded-Proto"] = proto;
            }

            c.Request.Headers["X-Forwarded-Host"] = "evil.example";
        });
}

public sealed class SecureConnectionTests(ProxiedShop shop) : IClassFixture<ProxiedShop>
{
    [Theory]
    [InlineData("192.0.2.7", "203.0.113.9", true)]
    [InlineData("198.51.100.40", "203.0.113.9", true)]
    [InlineData("127.0.0.1", "203.0.113.9", true)]
    [InlineData("203.0.113.66", "203.0.113.66", false)]
    public async Task Only_named_proxies_say_who_calls_and_that_it_was_by_https(
        string from,
        string caller,
        bool isHttps
    )
    {
        var answered = await shop.AskAsync(from, "/sign-in", "203.0.113.9", "https");

        Assert.Equal(caller, answered.Connection.RemoteIpAddress!.ToString());
        Assert.Equal(isHttps, answered.Request.IsHttps);
        Assert.Equal(isHttps ? "max-age=31536000" : "", answered.Response.Headers.StrictTransportSecurity.ToString());
        Assert.Equal("elsewhere.example", answered.Request.Host.Value);
    }

    [Fact]
    public async Task Whoever_writes_the_header_themselves_is_counted_where_they_are()
    {
        var answered = await shop.AskAsync("192.0.2.7", "/sign-in", "10.0.0.1, 203.0.113.9", "https");

        Assert.Equal("203.0.113.9", answered.Connection.RemoteIpAddress!.ToString());
    }

    [Fact]
    public async Task Cookies_of_a_shop_reached_by_https_go_over_nothing_else()
    {
        using var client = shop.NewBrowser();
        client.BaseAddress = new Uri("https://shop.example");
        using var opened = await client.GetAsync(
            new Uri("/sign-in", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        using var entered = await client.SignInAsync("owner@shop.example", ShopHost.Password);

        var cookies = opened.Headers.GetValues("Set-Cookie").Concat(entered.Headers.GetValues("Set-Cookie")).ToList();

        Assert.Contains(cookies, c => c.StartsWith("__Host-shopfloor=", StringComparison.Ordinal));
        Assert.All(
            cookies,
            c =>
            {
                Assert.True(
                    c.StartsWith("__Host-", StringComparison.Ordinal)
                        || c.StartsWith("shopfloor-form=", StringComparison.Ordinal),
                    c
                );
                Assert.Contains("; secure", c, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("; httponly", c, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("; samesite=", c, StringComparison.OrdinalIgnoreCase);
                Assert.Contains("; path=/", c, StringComparison.OrdinalIgnoreCase);
                Assert.DoesNotContain("domain=", c, StringComparison.OrdinalIgnoreCase);
            }
        );
    }

    [Theory]
    [InlineData("192.0.2.7 and others")]
    [InlineData("192.0.2.0/40")]
    public void Wrong_list_of_proxies_ends_the_start_with_a_sentence(string list)
    {
        var configuration = new ConfigurationBuilder()
            .AddInMemoryCollection(
                new Dictionary<string, string?>
                {
                    ["SHOPFLOOR_DATA"] = shop.Folder,
                    ["SHOPFLOOR_TRUSTED_PROXIES"] = list,
                }
            )
            .Build();

        var wrong = Assert.Throws<ConfigurationException>(() => HostSettings.Read(configuration));
        Assert.Contains("SHOPFLOOR_TRUSTED_PROXIES", wrong.Message, StringComparison.Ordinal);
    }
}
