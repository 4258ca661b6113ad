using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Devices;

/// <summary>The secret by which the server knows one of the shop's tablets; scripts cannot read it.</summary>
internal static class DeviceCookie
{
    private const string PlainName = "shopfloor-tablet";

    /// <summary>Browsers keep no cookie longer.</summary>
    private static readonly TimeSpan Life = TimeSpan.FromDays(400);

    public static string? Read(HttpContext http) =>
        // Tablets that were added by an earlier program keep the plain name.
        http.Request.Cookies[NameFor(http)]
        ?? http.Request.Cookies[PlainName];

    public static void Write(HttpContext http, string secret) =>
        http.Response.Cookies.Append(
            NameFor(http),
            secret,
            new CookieOptions
            {
                HttpOnly = true,
                Secure = SettingsOf(http).IsSecure || http.Request.IsHttps,
                SameSite = SameSiteMode.Lax,
                MaxAge = Life,
                Path = "/",
                IsEssential = true,
            }
        );

    private static string NameFor(HttpContext http) => CookieRules.NameOf(PlainName, SettingsOf(http));

    private static Hosting.Settings SettingsOf(HttpContext http) =>
        http.RequestServices.GetRequiredService<Hosting.Settings>();

    /// <summary>Where somebody signs in who asked for a page of the floor on one of the shop's tablets; null elsewhere.</summary>
    public static string? SignInFor(HttpContext http)
    {
        var path = http.Request.Path;
        return
            Read(http) is not null
            && HttpMethods.IsGet(http.Request.Method)
            && (path.StartsWithSegments("/floor") || path.StartsWithSegments("/inspection"))
            ? $"/floor/people?returnUrl={Uri.EscapeDataString(path.Value!)}"
            : null;
    }
}
