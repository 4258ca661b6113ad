using Microsoft.AspNetCore.HttpOverrides;

namespace ShopFloor.Web.Hosting;

/// <summary>Who the caller is and whether they came by https, where a proxy stands before the program. Only the word of proxies that the shop names is taken: anybody can write such headers.</summary>
public static class TrustedProxies
{
    public static void AddTrustedProxies(this IServiceCollection services) =>
        services
            .AddOptions<ForwardedHeadersOptions>()
            // After everybody else: the framework's own switch (ASPNETCORE_FORWARDEDHEADERS_ENABLED) would believe the whole world.
            .PostConfigure<Settings>(
                (o, settings) =>
                {
                    // Never the host: links are built from the configured address.
                    o.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
                    o.ForwardLimit = 1;
                    o.KnownProxies.Clear();
                    o.KnownIPNetworks.Clear();
                    o.KnownIPNetworks.Add(System.Net.IPNetwork.Parse("127.0.0.0/8"));
                    o.KnownIPNetworks.Add(System.Net.IPNetwork.Parse("::1/128"));
                    foreach (var network in settings.Proxies)
                    {
                        o.KnownIPNetworks.Add(network);
                    }
                }
            );
}
