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

    /// <summary>Longest document that is read, in characters.</summary>
    public const int LongestDocument = 1_000_000;

    /// <summary>Reads a document and checks it.</summary>
    public static Outcome<RouteTemplate> Read(string json) =>
        Parse(json)
            .Then<RouteTemplate>(template =>
                RouteTemplateCheck.Problems(template) is { Count: > 0 } errors ? new Failure.Invalid(errors) : template
            );

    /// <summary>Reads a document that may still be unfinished.</summary>
    public static Outcome<RouteTemplate> Parse(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        if (json.Length > LongestDocument)
        {
            return Failure.Field("", $"The route template is longer than {LongestDocument:N0} characters.");
        }

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

        return HasNulls(template)
            ? Failure.Field("", "The route template has an empty entry in one of its lists; take it out.")
            : template;
    }

    /// <summary>A list entry that is null cannot be told apart from a written one later on.</summary>
    private static bool HasNulls(RouteTemplate template) =>
        template.Kits is null
        || template.Ways is null
        || template.Operations is null
        || template.AnswerDefaults is null
        || template.Kits.Contains(null!)
        || template.Ways.Any(w => w?.Code is null || w.Title is null)
        || template.Operations.Any(o =>
            o?.Code is null
            || o.Title is null
            || o.Skill is null
            || o.Place is null
            || o.Instruction is null
            || o.After is null
            || o.NeedsOpen is null
            || o.Closes is null
            || o.Opens is null
            || o.Gates is null
            || o.Work is null
            || o.Figures is null
            || o.Pictures is null
            || o.Equipment is null
            || o.Equipment.Contains(null!)
            || o.Pictures.Any(p => p?.Caption is null)
            || o.After.Concat(o.NeedsOpen).Concat(o.Closes).Concat(o.Opens).Concat(o.Figures).Contains(null)
            || o.Gates.Contains(null!)
            || o.Work.Any(w => w?.Standard is null)
        );

    public static string Write(RouteTemplate template) => JsonSerializer.Serialize(template, Options);
}
