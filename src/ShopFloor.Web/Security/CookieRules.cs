using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using HostSettings = ShopFloor.Web.Hosting.Settings;

namespace ShopFloor.Web.Security;

/// <summary>
/// What the cookies that sign somebody in have in common. Where the shop is reached by https they go over nothing else, and their name begins with <c>__Host-</c>: browsers then take them from this
/// host over https only (RFC 6265bis, 4.1.3.2; OWASP ASVS 5.0, 3.3.1 and 3.3.3).
/// </summary>
public static class CookieRules
{
    public static string NameOf(string name, HostSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.IsSecure ? "__Host-" + name : name;
    }

    public static void AddCookieRules(this IServiceCollection services)
    {
        Configure(services, IdentityConstants.ApplicationScheme, "shopfloor");
        Configure(services, IdentityConstants.TwoFactorUserIdScheme, "shopfloor-step");
        // It guards forms and signs nobody in. Asked for https only, the framework would answer whoever comes by http with an error instead of a page.
        services.Configure<AntiforgeryOptions>(o =>
        {
            o.Cookie.Name = "shopfloor-form";
            o.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        });
    }

    private static void Configure(IServiceCollection services, string scheme, string name) =>
        services
            .AddOptions<CookieAuthenticationOptions>(scheme)
            .Configure<HostSettings>((o, settings) => Apply(o.Cookie, name, settings));

    private static void Apply(CookieBuilder cookie, string name, HostSettings settings)
    {
        cookie.Name = NameOf(name, settings);
        cookie.HttpOnly = true;
        cookie.Path = "/";
        cookie.SecurePolicy = settings.IsSecure ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
    }
}
