using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;

namespace ShopFloor.Web.Security;

/// <summary>Whether the person behind an open page may still be signed in: looked at as soon as a tablet is ended, a PIN or a person changed, and every minute besides, until the page is closed or the program stops. Who may not sees nothing of the page any more and can do nothing on it.</summary>
public sealed class SignInState : RevalidatingServerAuthenticationStateProvider
{
    private static readonly HashSet<string> Ending = new(StringComparer.Ordinal)
    {
        "device.revoked",
        "pin.set",
        "pin.removed",
        "person.changed",
        "person.signedOut",
    };

    private readonly IServiceScopeFactory scopes;
    private readonly IOptions<IdentityOptions> options;
    private readonly IChangeNotices notices;
    private readonly IHttpContextAccessor requests;
    private readonly CancellationTokenSource closing = new();
    private readonly CancellationTokenRegistration stopping;
    private bool isListening;

    public SignInState(
        ILoggerFactory loggers,
        IServiceScopeFactory scopes,
        IOptions<IdentityOptions> options,
        IChangeNotices notices,
        IHttpContextAccessor requests,
        IHostApplicationLifetime lifetime
    )
        : base(loggers)
    {
        this.scopes = scopes;
        this.options = options;
        this.notices = notices;
        this.requests = requests;
        AuthenticationStateChanged += Follow;
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
                == user.SecurityStamp
            && await Sessions.HoldAsync(
                authenticationState.User,
                scope.ServiceProvider.GetRequiredService<CheckSession>(),
                cancellationToken
            )
            && await DeviceSessions.HoldsAsync(
                authenticationState.User,
                scope.ServiceProvider.GetRequiredService<ReadDevices>(),
                cancellationToken
            );
    }

    protected override void Dispose(bool disposing)
    {
        AuthenticationStateChanged -= Follow;
        stopping.Dispose();
        if (disposing && !closing.IsCancellationRequested)
        {
            closing.Cancel();
            closing.Dispose();
        }

        base.Dispose(disposing);
    }

    /// <summary>The circuit says once who it is.</summary>
    private void Follow(Task<AuthenticationState> state)
    {
        // A page that is only being answered was looked at on its way in; it may itself be changing the password that its cookie still names.
        var isCircuit = requests.HttpContext?.Request.Path.StartsWithSegments("/_blazor") != false;
        if (isCircuit && !isListening && !closing.IsCancellationRequested)
        {
            isListening = true;
            _ = ListenAsync(closing.Token);
        }
    }

    private async Task ListenAsync(CancellationToken ct)
    {
        try
        {
            await foreach (var notice in notices.ListenAsync(ct))
            {
                if (Ending.Contains(notice.Type))
                {
                    await LookAsync(ct);
                }
            }
        }
        catch (OperationCanceledException) when (ct.IsCancellationRequested)
        {
            // The page was closed.
        }
    }

    private async Task LookAsync(CancellationToken ct)
    {
        var state = await GetAuthenticationStateAsync();
        if (state.User.Identity?.IsAuthenticated == true && !await ValidateAuthenticationStateAsync(state, ct))
        {
            SetAuthenticationState(Task.FromResult(new AuthenticationState(new ClaimsPrincipal(new ClaimsIdentity()))));
        }
    }
}
