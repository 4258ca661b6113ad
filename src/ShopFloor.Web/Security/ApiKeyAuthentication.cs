using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;
using ShopFloor.Application.People;

namespace ShopFloor.Web.Security;

/// <summary>Signs API calls in by <c>Authorization: Bearer KEY</c>.</summary>
public sealed class ApiKeyAuthentication(
    IOptionsMonitor<AuthenticationSchemeOptions> options,
    ILoggerFactory logger,
    UrlEncoder encoder,
    FindApiKey findKey
) : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string SchemeName = "ApiKey";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var header = Request.Headers.Authorization.ToString();
        if (!header.StartsWith("Bearer ", StringComparison.OrdinalIgnoreCase))
        {
            return AuthenticateResult.NoResult();
        }

        var found = await findKey.RunAsync(header["Bearer ".Length..].Trim(), Context.RequestAborted);
        if (found is null)
        {
            return AuthenticateResult.Fail("The key is unknown, was revoked or has ended.");
        }

        var claims = found
            .Roles.Select(r => new Claim(ClaimTypes.Role, r.ToString()))
            .Append(new Claim(Actors.KeyClaim, found.Key.ToString()))
            .Concat(found.Scopes.Select(s => new Claim(Actors.ScopeClaim, s)))
            .ToList();
        if (found.IsReader)
        {
            claims.Add(new Claim(Actors.ReaderClaim, "yes"));
        }

        if (found.IsEnding)
        {
            claims.Add(new Claim(Actors.EndingClaim, "yes"));
        }

        if (found.Person is { } person)
        {
            claims.Add(new Claim(ClaimTypes.NameIdentifier, person.ToString()));
        }

        return AuthenticateResult.Success(
            new AuthenticationTicket(new ClaimsPrincipal(new ClaimsIdentity(claims, SchemeName)), SchemeName)
        );
    }
}
