using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Data.Conventions;

namespace ShopFloor.Web.Api;

/// <summary>How the API reads and writes JSON: camelCase, case-sensitive, unknown and duplicate fields refused, numbers never in strings.</summary>
public static class ApiJson
{
    public static JsonSerializerOptions Options { get; } = Create();

    public static void Configure(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.CamelCase;
        options.PropertyNameCaseInsensitive = false;
        options.NumberHandling = JsonNumberHandling.Strict;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.AllowDuplicateProperties = false;
        options.MaxDepth = 32;
        options.Converters.Add(new Instants());
        foreach (var converter in StoredJson.Options.Converters)
        {
            options.Converters.Add(converter);
        }
    }

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.General);
        Configure(options);
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }
}
