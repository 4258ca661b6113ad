using System.Diagnostics.CodeAnalysis;
using System.Security.Claims;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Security;

/// <summary>Who a signed-in principal is, as the Application layer knows them.</summary>
public static class Actors
{
    /// <summary>Claim that holds an API key's id.</summary>
    public const string KeyClaim = "shopfloor:key";

    /// <summary>Claim for each permission that a key is limited to; none: all of its role.</summary>
    public const string ScopeClaim = "shopfloor:scope";

    /// <summary>Claim of a key that may read only.</summary>
    public const string ReaderClaim = "shopfloor:reader";

    /// <summary>Claim of a key that ends on a day.</summary>
    public const string EndingClaim = "shopfloor:ending";

    /// <summary>Reads person, key and roles from the claims; false for anonymous.</summary>
    public static bool TryRead(ClaimsPrincipal user, [NotNullWhen(true)] out Actor? actor, string? device = null)
    {
        actor = null;
        if (user.Identity?.IsAuthenticated != true)
        {
            return false;
        }

        var roles = user.FindAll(ClaimTypes.Role)
            .Select(c => Enum.TryParse<Role>(c.Value, out var role) ? role : (Role?)null)
            .OfType<Role>()
            .ToHashSet();
        PersonId? person = Guid.TryParse(user.FindFirstValue(ClaimTypes.NameIdentifier), out var id)
            ? new PersonId(id)
            : null;
        Guid? key = Guid.TryParse(user.FindFirstValue(KeyClaim), out var keyId) ? keyId : null;
        if (person is null && key is null)
        {
            return false;
        }

        var name = user.FindFirstValue(DeviceSessions.DeviceNameClaim);
        actor = new Actor(person is null ? ActorKind.Integration : ActorKind.Person, person, key, roles, name ?? device)
        {
            IsByPin = user.HasClaim(c => c.Type == DeviceSessions.DeviceClaim),
            Scopes = user.HasClaim(c => c.Type == ScopeClaim)
                ? user.FindAll(ScopeClaim).Select(c => c.Value).ToHashSet()
                : null,
            IsReader = user.HasClaim(c => c.Type == ReaderClaim),
            IsLimited = user.HasClaim(c => c.Type is ScopeClaim or ReaderClaim or EndingClaim),
        };
        return true;
    }

    /// <summary>The actor of an authorised request.</summary>
    /// <exception cref="InvalidOperationException">The endpoint let an anonymous caller through.</exception>
    public static Actor Of(HttpContext http) =>
        TryRead(http.User, out var actor, DeviceOf(http))
            ? actor
            : throw new InvalidOperationException("This endpoint needs an authenticated caller.");

    private static string? DeviceOf(HttpContext http)
    {
        var name = http.Request.Headers["X-Device"].ToString().Trim();
        return name.Length is > 0 and <= 64 && name.All(c => c is >= ' ' and <= '~') ? name : null;
    }
}
