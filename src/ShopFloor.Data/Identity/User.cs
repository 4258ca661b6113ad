using Microsoft.AspNetCore.Identity;

namespace ShopFloor.Data.Identity;

/// <summary>A person of the shop who can sign in. Their name lives only here, so that history refers to it by id.</summary>
public sealed class User : IdentityUser<Guid>
{
    public string DisplayName { get; set; } = "";

    /// <summary>False once the person has left: no sign-in, no command, the history stays.</summary>
    public bool IsActive { get; set; } = true;
}

public sealed class ShopRole : IdentityRole<Guid>;
