using System.Security.Cryptography;

namespace ShopFloor.Web.Hosting;

/// <summary>Security headers of every answer; pages read their script nonce from <see cref="NonceOf"/>.</summary>
public sealed class PageHeaders(RequestDelegate next)
{
    private const string Key = "shopfloor.nonce";

    public static string NonceOf(HttpContext context) => (string)context.Items[Key]!;

    public Task InvokeAsync(HttpContext context)
    {
        var nonce = Convert.ToBase64String(RandomNumberGenerator.GetBytes(16));
        context.Items[Key] = nonce;
        Write(context, nonce);
        // The page for errors begins with no headers at all (and gets a weaker policy by itself): then all are written once more.
        context.Response.OnStarting(() =>
        {
            if (context.Response.Headers.XContentTypeOptions.Count == 0)
            {
                Write(context, nonce);
            }

            return Task.CompletedTask;
        });
        return next(context);
    }

    private static void Write(HttpContext context, string nonce)
    {
        var headers = context.Response.Headers;
        // The component library needs inline styles; scripts are our own files and the import map only.
        headers.ContentSecurityPolicy =
            $"default-src 'self'; script-src 'self' 'nonce-{nonce}'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self'; "
            + "object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";
        if (context.Request.IsHttps)
        {
            // A year, as OWASP ASVS 5.0, 3.4.1, asks for at least. Over http browsers pay no heed to it (RFC 6797, 8.1).
            headers.StrictTransportSecurity = "max-age=31536000";
        }

        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(self), microphone=(), geolocation=()";
    }
}
