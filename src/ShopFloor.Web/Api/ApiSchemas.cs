using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Api;

/// <summary>Says in the OpenAPI document what our own JSON converters take, which it cannot see by itself.</summary>
internal static class ApiSchemas
{
    /// <summary>The schema's name. A type inside another carries the outer one's name: most bodies are called Request, and each must keep its own schema.</summary>
    public static string? NameOf(JsonTypeInfo info)
    {
        var own = OpenApiOptions.CreateDefaultSchemaReferenceId(info);
        var outer = (Nullable.GetUnderlyingType(info.Type) ?? info.Type).DeclaringType;
        return own is null || outer is null ? own : outer.Name + own;
    }

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
