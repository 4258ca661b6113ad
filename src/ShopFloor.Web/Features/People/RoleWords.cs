using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.People;

/// <summary>Roles as pages name them.</summary>
internal static class RoleWords
{
    public static string Of(Role role) =>
        role switch
        {
            Role.Owner => "Owner",
            Role.FrontDesk => "Front desk",
            Role.Fabricator => "Fabricator",
            _ => "Inspector",
        };
}
