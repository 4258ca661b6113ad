using Microsoft.AspNetCore.HttpOverrides;

namespace ShopFloor.Web.Hosting;

/// <summary>Who the caller is and whether they came by https, where a proxy stands before the program. Only the word of proxies that the shop names is taken: anybody can write such headers.</summary>
public static class TrustedProxies
{
    public static void AddTrustedProxies(this IServiceCollection services) =>
        services
            .AddOptions<ForwardedHeadersOptions>()
            .Configure<Settings>(
                (o, settings) =>
                {
                    // Never the host: links are built from the configured address.
                    o.ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
                    o.ForwardLimit = 1;
                    foreach (var network in settings.Proxies)
                    {
                        o.KnownIPNetworks.Add(network);
                    }
                }
            );
}
