using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>Deny by default: every route says who may use it, and who may is what the one table says.</summary>
public sealed class RoleMatrixTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    // Served by the framework: the circuit's own endpoints, static files, the matcher's refusals.
    private static readonly string[] Framework =
    [
        "/_blazor",
        "/_framework",
        "_framework",
        "/_content",
        "_content",
        "{**path:file}",
    ];

    private IReadOnlyList<RouteEndpoint> Routes =>
        [
            .. shop
                .Services.GetServices<EndpointDataSource>()
                .SelectMany(s => s.Endpoints)
                .OfType<RouteEndpoint>()
                .Where(e => !Framework.Any(f => e.RoutePattern.RawText!.StartsWith(f, StringComparison.Ordinal)))
                .Where(e =>
                    !Path.HasExtension(e.RoutePattern.RawText)
                    || e.RoutePattern.RawText!.StartsWith("/openapi", StringComparison.Ordinal)
                )
                .DistinctBy(e =>
                    (
                        e.RoutePattern.RawText,
                        string.Join(',', e.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? [])
                    )
                ),
        ];

    [Fact]
    public void Every_route_declares_a_policy_or_says_that_anybody_may()
    {
        Assert.True(Routes.Count > 20);
        var silent = Routes
            .Where(e =>
                e.Metadata.GetMetadata<IAllowAnonymous>() is null
                && e.Metadata.GetOrderedMetadata<IAuthorizeData>().Count == 0
            )
            .ToList();
        Assert.True(
            silent.Count == 0,
            "Without a policy: " + string.Join(", ", silent.Select(e => e.RoutePattern.RawText))
        );
    }

    [Fact]
    public async Task A_route_that_names_a_permission_lets_in_exactly_the_roles_that_hold_it()
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var service = scope.ServiceProvider.GetRequiredService<IAuthorizationService>();
        var provider = scope.ServiceProvider.GetRequiredService<IAuthorizationPolicyProvider>();
        var seen = 0;
        foreach (var route in Routes.Where(e => e.Metadata.GetMetadata<IAllowAnonymous>() is null))
        {
            var data = route.Metadata.GetOrderedMetadata<IAuthorizeData>();
            var policy = await AuthorizationPolicy.CombineAsync(provider, data);
            var needed = data.OfType<NeedsAttribute>().Select(n => n.Permission).ToList();
            Assert.False(
                (await service.AuthorizeAsync(new ClaimsPrincipal(new ClaimsIdentity()), null, policy!)).Succeeded,
                $"Anonymous got into {route.RoutePattern.RawText}"
            );
            foreach (var role in Enum.GetValues<Role>())
            {
                var may = needed.All(p => Permissions.ByRole[role].Contains(p));
                var result = await service.AuthorizeAsync(PrincipalOf(role), null, policy!);
                Assert.True(
                    result.Succeeded == may,
                    $"{role} at {route.RoutePattern.RawText}: {result.Succeeded}, but the table says {may}"
                );
                seen++;
            }
        }

        Assert.True(seen > 100, $"Only {seen} combinations were walked.");
    }

    [Fact]
    public async Task Every_api_route_answers_a_caller_without_a_key_with_401()
    {
        using var client = shop.CreateClient();
        foreach (
            var route in Routes.Where(e => e.RoutePattern.RawText!.StartsWith("/api/v1", StringComparison.Ordinal))
        )
        {
            var path = string.Join(
                '/',
                route.RoutePattern.PathSegments.Select(s =>
                    s.Parts[0] is Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart literal
                        ? literal.Content
                        : SampleOf(s.Parts[0])
                )
            );
            var method = route.Metadata.GetMetadata<HttpMethodMetadata>()!.HttpMethods[0];
            using var response = await client.SendAsync(new HttpMethod(method), "/" + path);
            Assert.True((int)response.StatusCode == 401, $"{method} /{path}: {(int)response.StatusCode}");
        }
    }

    [Fact]
    public void Every_permission_is_held_by_somebody_and_the_owner_holds_all()
    {
        Assert.Equal(Enum.GetValues<Permission>(), Permissions.ByRole[Role.Owner]);
        Assert.Equal(Enum.GetValues<Role>().Length, Permissions.ByRole.Count);
    }

    private static string SampleOf(Microsoft.AspNetCore.Routing.Patterns.RoutePatternPart part) =>
        part
            is Microsoft.AspNetCore.Routing.Patterns.RoutePatternParameterPart
            {
                ParameterPolicies: [{ Content: "guid" }, ..]
            }
            ? "0197a000-0000-7000-8000-000000000001"
            : "10";

    private static ClaimsPrincipal PrincipalOf(Role role) =>
        new(
            new ClaimsIdentity(
                [
                    new Claim(ClaimTypes.NameIdentifier, "0197a000-0000-7000-8000-000000000001"),
                    new Claim(ClaimTypes.Role, role.ToString()),
                ],
                "test"
            )
        );
}
