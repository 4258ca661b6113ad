using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data.Identity;

namespace ShopFloor.Web.Security;

/// <summary>Looks every minute whether the person behind an open page may still be signed in.</summary>
public sealed class SignInState(ILoggerFactory loggers, IServiceScopeFactory scopes, IOptions<IdentityOptions> options)
    : RevalidatingServerAuthenticationStateProvider(loggers)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromMinutes(1);

    protected override async Task<bool> ValidateAuthenticationStateAsync(
        AuthenticationState authenticationState,
        CancellationToken cancellationToken
    )
    {
        await using var scope = scopes.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<User>>();
        var user = await users.GetUserAsync(authenticationState.User);
        return user is { IsActive: true }
            && authenticationState.User.FindFirstValue(options.Value.ClaimsIdentity.SecurityStampClaimType)
                == user.SecurityStamp;
    }
}
