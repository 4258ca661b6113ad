using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data.Identity;

namespace ShopFloor.Web.Security;

/// <summary>Adds the person's own name to the sign-in, so that pages need not ask for it.</summary>
public sealed class PersonClaims(
    UserManager<User> users,
    RoleManager<ShopRole> roles,
    IOptions<IdentityOptions> options
) : UserClaimsPrincipalFactory<User, ShopRole>(users, roles, options)
{
    public const string NameClaim = "shopfloor:name";

    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(User user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        identity.AddClaim(new Claim(NameClaim, user.DisplayName));
        return identity;
    }
}
