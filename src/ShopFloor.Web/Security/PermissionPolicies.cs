using Microsoft.AspNetCore.Authorization;
using Microsoft.Extensions.Options;
using ShopFloor.Application.Common;

namespace ShopFloor.Web.Security;

/// <summary>A permission asked of whoever opens a page or calls an endpoint.</summary>
public sealed record PermissionRequirement(Permission Permission) : IAuthorizationRequirement;

/// <summary>Answers <see cref="PermissionRequirement"/> by the one table in <see cref="Permissions"/>.</summary>
public sealed class PermissionHandler : AuthorizationHandler<PermissionRequirement>
{
    protected override Task HandleRequirementAsync(
        AuthorizationHandlerContext context,
        PermissionRequirement requirement
    )
    {
        if (Actors.TryRead(context.User, out var actor) && actor.May(requirement.Permission))
        {
            context.Succeed(requirement);
        }

        return Task.CompletedTask;
    }
}

/// <summary>Policies named after permissions, so that a page writes <c>[Needs(Permission.Quote)]</c>.</summary>
public sealed class PermissionPolicies(IOptions<AuthorizationOptions> options)
    : DefaultAuthorizationPolicyProvider(options)
{
    public const string Prefix = "may:";

    public override async Task<AuthorizationPolicy?> GetPolicyAsync(string policyName)
    {
        ArgumentNullException.ThrowIfNull(policyName);
        return
            policyName.StartsWith(Prefix, StringComparison.Ordinal)
            && Enum.TryParse<Permission>(policyName[Prefix.Length..], out var permission)
            ? new AuthorizationPolicyBuilder()
                .RequireAuthenticatedUser()
                .AddRequirements(new PermissionRequirement(permission))
                .Build()
            : await base.GetPolicyAsync(policyName);
    }
}

/// <summary>A page that needs a permission.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class NeedsAttribute : AuthorizeAttribute
{
    public NeedsAttribute(Permission permission)
    {
        Permission = permission;
        Policy = PermissionPolicies.Prefix + permission;
    }

    public Permission Permission { get; }
}

public static class PermissionEndpoints
{
    /// <summary>An endpoint that needs a permission.</summary>
    public static TBuilder RequirePermission<TBuilder>(this TBuilder builder, Permission permission)
        where TBuilder : IEndpointConventionBuilder => builder.RequireAuthorization(new NeedsAttribute(permission));
}
