using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>Reads and writes a route template's document.</summary>
public static class RouteTemplateJson
{
    /// <summary>Strict: unknown or wrongly cased fields, double fields and numbers in strings are refused.</summary>
    public static JsonSerializerOptions Options { get; } =
        new(JsonSerializerDefaults.General)
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            AllowDuplicateProperties = false,
            DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
            RespectNullableAnnotations = true,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
            WriteIndented = true,
        };

    /// <summary>Reads a document and checks it.</summary>
    public static Outcome<RouteTemplate> Read(string json)
    {
        RouteTemplate? template;
        try
        {
            template = JsonSerializer.Deserialize<RouteTemplate>(json, Options);
        }
        catch (JsonException problem)
        {
            return Failure.Field(problem.Path ?? "", "The route template cannot be read: " + problem.Message);
        }

        if (template is null)
        {
            return Failure.Field("", "The route template is empty.");
        }

        var errors = RouteTemplateCheck.Problems(template);
        return errors.Count == 0 ? template : new Failure.Invalid(errors);
    }

    public static string Write(RouteTemplate template) => JsonSerializer.Serialize(template, Options);
}
