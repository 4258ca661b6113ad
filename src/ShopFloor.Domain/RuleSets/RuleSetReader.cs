using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>Reads data files of the trade (rule sets, inspection plans): camelCase, no unknown field, enums by name.</summary>
public static class DataFiles
{
    /// <summary>A data file is read into memory whole; a longer one is refused.</summary>
    public const int LargestCharacters = 1_000_000;

    public static JsonSerializerOptions Json { get; } =
        new(JsonSerializerDefaults.General)
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            RespectNullableAnnotations = true,
            RespectRequiredConstructorParameters = true,
            ReadCommentHandling = JsonCommentHandling.Disallow,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
        };

    /// <summary>The document, or one sentence that says where the text stops being one.</summary>
    public static Outcome<T> Read<T>(string text)
        where T : class
    {
        if (text.Length > LargestCharacters)
        {
            return new Failure.TooLarge(
                $"The file has {text.Length} characters; at most {LargestCharacters} are read."
            );
        }

        try
        {
            return JsonSerializer.Deserialize<T>(text, Json) is { } document
                ? document
                : Failure.Field("$", "The file is empty.");
        }
        catch (JsonException e)
        {
            return Failure.Field(e.Path ?? "$", $"The file cannot be read at {e.Path ?? "its start"}: {e.Message}");
        }
    }
}

/// <summary>From a data file's text to a checked rule set.</summary>
public static class RuleSetReader
{
    public static Outcome<RuleSet> Read(string text) => DataFiles.Read<RuleSetDocument>(text).Then(RuleSet.From);
}
