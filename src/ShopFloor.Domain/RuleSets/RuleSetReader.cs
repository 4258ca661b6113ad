using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>Reads data files of the trade (rule sets, inspection plans): camelCase, no unknown and no repeated field, enums by name.</summary>
public static class DataFiles
{
    /// <summary>A data file is read into memory whole; a longer one is refused.</summary>
    public const int LargestCharacters = 1_000_000;

    public static JsonSerializerOptions Json { get; } =
        new(JsonSerializerDefaults.General)
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            AllowDuplicateProperties = false,
            RespectNullableAnnotations = true,
            RespectRequiredConstructorParameters = true,
            ReadCommentHandling = JsonCommentHandling.Disallow,
            Converters = { new EnumWords() },
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

/// <summary>From a data file's text to a checked rule set, and back.</summary>
public static class RuleSetReader
{
    private static readonly JsonSerializerOptions Written = new(DataFiles.Json)
    {
        WriteIndented = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        // A file is no page: ≥, ° and ² stay readable.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static Outcome<RuleSet> Read(string text) => DataFiles.Read<RuleSetDocument>(text).Then(RuleSet.From);

    /// <summary>The file of a rule set, in the published format.</summary>
    public static string Write(RuleSetDocument document) => JsonSerializer.Serialize(document, Written) + "\n";
}
