using ShopFloor.Web.Security;

namespace ShopFloor.Web.Api;

/// <summary>A class that maps endpoints of one feature; found by scanning. Implementations of <see cref="IApiEndpoints"/> are mapped under <c>/api/v1</c>.</summary>
public interface IEndpoints
{
    static abstract void Map(IEndpointRouteBuilder app);
}

/// <summary>Endpoints of the JSON API: keys only, problem documents, strict bodies. Paths are relative to <c>/api/v1</c>.</summary>
public interface IApiEndpoints
{
    static abstract void Map(RouteGroupBuilder api);
}

public static class EndpointScan
{
    public const string ApiPrefix = "/api/v1";

    public static void MapAllEndpoints(this WebApplication app)
    {
        var api = app.MapGroup(ApiPrefix)
            .RequireAuthorization(p =>
                p.AddAuthenticationSchemes(ApiKeyAuthentication.SchemeName).RequireAuthenticatedUser()
            )
            .AddEndpointFilter<ApiFilter>()
            .WithGroupName("v1")
            .DisableAntiforgery();
        foreach (
            var type in typeof(EndpointScan).Assembly.GetTypes().Where(t => t is { IsClass: true, IsAbstract: false })
        )
        {
            if (type.IsAssignableTo(typeof(IEndpoints)))
            {
                Call(type, app);
            }

            if (type.IsAssignableTo(typeof(IApiEndpoints)))
            {
                Call(type, api);
            }
        }
    }

    private static void Call(Type type, object routes) =>
        type.GetMethod("Map", System.Reflection.BindingFlags.Static | System.Reflection.BindingFlags.Public)!
            .Invoke(null, System.Reflection.BindingFlags.DoNotWrapExceptions, null, [routes], null);
}
