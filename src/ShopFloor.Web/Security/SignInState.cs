using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data.Identity;

namespace ShopFloor.Web.Security;

/// <summary>Looks every minute whether the person behind an open page may still be signed in, until the page is closed or the program stops.</summary>
public sealed class SignInState : RevalidatingServerAuthenticationStateProvider
{
    private readonly IServiceScopeFactory scopes;
    private readonly IOptions<IdentityOptions> options;
    private readonly CancellationTokenRegistration stopping;

    public SignInState(
        ILoggerFactory loggers,
        IServiceScopeFactory scopes,
        IOptions<IdentityOptions> options,
        IHostApplicationLifetime lifetime
    )
        : base(loggers)
    {
        this.scopes = scopes;
        this.options = options;
        // A page whose browser is gone is kept for minutes in case it returns, and would be looked after beyond the end of the program.
        stopping = lifetime.ApplicationStopping.Register(() => ((IDisposable)this).Dispose());
    }

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

    protected override void Dispose(bool disposing)
    {
        stopping.Dispose();
        base.Dispose(disposing);
    }
}
