using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Web.Security;

/// <summary>Every way of signing in ends here: each begins a session that its person sees and can end. Who has left the shop never signs in.</summary>
public sealed class ShopSignInManager(
    UserManager<User> userManager,
    IHttpContextAccessor contextAccessor,
    IUserClaimsPrincipalFactory<User> claimsFactory,
    IOptions<IdentityOptions> optionsAccessor,
    ILogger<SignInManager<User>> logger,
    IAuthenticationSchemeProvider schemes,
    IUserConfirmation<User> confirmation,
    BeginSession begin
) : SignInManager<User>(userManager, contextAccessor, claimsFactory, optionsAccessor, logger, schemes, confirmation)
{
    private SessionId? kept;

    /// <summary>How the person shows who they are; said before signing in.</summary>
    public SignInWay Way { get; set; } = SignInWay.Password;

    public override async Task<bool> CanSignInAsync(User user)
    {
        ArgumentNullException.ThrowIfNull(user);
        return user.IsActive && await base.CanSignInAsync(user);
    }

    public override async Task SignInWithClaimsAsync(
        User user,
        AuthenticationProperties? authenticationProperties,
        IEnumerable<Claim> additionalClaims
    )
    {
        ArgumentNullException.ThrowIfNull(user);
        var claims = additionalClaims.Where(c => c.Type != Sessions.Claim).ToList();
        var way = claims.Exists(c => c.Type == DeviceSessions.DeviceClaim) ? SignInWay.Pin : Way;
        var session = kept ?? await BeginAsync(user, way);
        claims.Add(new Claim(Sessions.Claim, session.ToString()));
        await base.SignInWithClaimsAsync(user, authenticationProperties, claims);
    }

    /// <summary>The same session with what is newly known of the person, for instance after they changed their password.</summary>
    public override async Task RefreshSignInAsync(User user)
    {
        kept = Sessions.Of(Context.User);
        try
        {
            await base.RefreshSignInAsync(user);
        }
        finally
        {
            kept = null;
        }
    }

    private async Task<SessionId> BeginAsync(User user, SignInWay way)
    {
        var begun = await begin.RunAsync(
            new PersonId(user.Id),
            way,
            Context.Request.Headers.UserAgent.ToString(),
            Context.Connection.RemoteIpAddress,
            Context.RequestAborted
        );
        return begun.TryGet(out var session, out var failure)
            ? session
            : throw new InvalidOperationException($"The session could not be noted: {failure.Sentence}");
    }
}

/// <summary>The session in a cookie.</summary>
public static class Sessions
{
    public const string Claim = "shopfloor:session";

    public static SessionId? Of(ClaimsPrincipal principal)
    {
        ArgumentNullException.ThrowIfNull(principal);
        return Guid.TryParse(principal.FindFirstValue(Claim), out var id) ? new SessionId(id) : null;
    }

    /// <summary>Whether the session still stands. A cookie without one is of an older program: its person signs in again.</summary>
    public static async Task<bool> HoldAsync(ClaimsPrincipal principal, CheckSession check, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(check);
        return Of(principal) is { } session
            && Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var person)
            && await check.HoldsAsync(session, new PersonId(person), ct);
    }
}
