using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using ShopFloor.Data.Conventions;

namespace ShopFloor.Web.Api;

/// <summary>Says in the OpenAPI document what our own JSON converters take, which it cannot see by itself.</summary>
internal static class ApiSchemas
{
    public static Task Describe(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken ct)
    {
        var type = Nullable.GetUnderlyingType(context.JsonTypeInfo.Type) ?? context.JsonTypeInfo.Type;
        if (type.IsEnum)
        {
            schema.Type = JsonSchemaType.String;
            schema.Enum = [.. EnumWords.Of(type).Select(word => (JsonNode)JsonValue.Create(word))];
        }

        return Task.CompletedTask;
    }
}
