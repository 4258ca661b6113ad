using System.Text.Json;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>What the OpenAPI document says of bodies, against the types that the program reads.</summary>
public sealed class OpenApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    [Fact]
    public async Task Every_body_has_the_schema_of_its_own_type()
    {
        using var api = await shop.ApiAsync(Role.Owner);
        var document = await api.GetJsonAsync("/openapi/v1.json");
        var types = BodyTypes();
        var named = new List<(string Schema, Type Type)>();
        foreach (var path in document.GetProperty("paths").EnumerateObject())
        {
            foreach (var call in path.Value.EnumerateObject())
            {
                if (SchemaOf(call.Value) is { } schema && types.TryGetValue((call.Name, path.Name), out var type))
                {
                    named.Add((schema, type));
                }
            }
        }

        Assert.True(named.Count > 40, $"Only {named.Count} bodies were found.");
        var shared = named
            .Distinct()
            .GroupBy(n => n.Schema)
            .Where(g => g.Count() > 1)
            .Select(g => $"{g.Key}: {string.Join(", ", g.Select(n => n.Type.FullName))}");
        Assert.Empty(shared);
    }

    private Dictionary<(string Method, string Path), Type> BodyTypes() =>
        shop
            .Services.GetServices<EndpointDataSource>()
            .SelectMany(s => s.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(e => e.Metadata.GetMetadata<IAcceptsMetadata>()?.RequestType is not null)
            .SelectMany(e =>
                e.Metadata.GetMetadata<HttpMethodMetadata>()!
                    .HttpMethods.Select(m =>
                        (
                            Key: (m.ToLowerInvariant(), PathOf(e)),
                            Type: e.Metadata.GetMetadata<IAcceptsMetadata>()!.RequestType!
                        )
                    )
            )
            .DistinctBy(e => e.Key)
            .ToDictionary(e => e.Key, e => e.Type);

    /// <summary>The route as the document writes it: parameters without their constraints.</summary>
    private static string PathOf(RouteEndpoint endpoint) =>
        "/"
        + string.Join(
            '/',
            endpoint.RoutePattern.PathSegments.Select(s =>
                string.Concat(
                    s.Parts.Select(p =>
                        p switch
                        {
                            Microsoft.AspNetCore.Routing.Patterns.RoutePatternParameterPart parameter =>
                                $"{{{parameter.Name}}}",
                            Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart literal => literal.Content,
                            _ => "",
                        }
                    )
                )
            )
        );

    private static string? SchemaOf(JsonElement call) =>
        call.TryGetProperty("requestBody", out var body)
        && body.TryGetProperty("content", out var content)
        && content.TryGetProperty("application/json", out var json)
        && json.TryGetProperty("schema", out var schema)
        && schema.TryGetProperty("$ref", out var reference)
            ? reference.GetString()
            : null;
}
