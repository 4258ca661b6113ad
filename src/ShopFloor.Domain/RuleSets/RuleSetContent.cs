using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>A rule set as canonical JSON (RFC 8785), whose SHA-256 names the content. Decimals are texts without trailing zeros, so that 2.0 and 2 are the same figure and no reader can change them.</summary>
public static class RuleSetContent
{
    private static readonly JsonSerializerOptions Options = new(DataFiles.Json)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new DecimalText() },
    };

    public static string Write(RuleSetDocument document) => CanonicalJson.Write(document, Options);

    /// <summary>The document, or why the stored text is none.</summary>
    public static Outcome<RuleSet> Read(string content)
    {
        try
        {
            return JsonSerializer.Deserialize<RuleSetDocument>(content, Options) is { } document
                ? RuleSet.From(document)
                : Failure.Field("$", "The content is empty.");
        }
        catch (JsonException e)
        {
            return Failure.Field(e.Path ?? "$", e.Message);
        }
    }

    /// <summary>Texts without spaces around them and blank ones left out: what was typed differently and says the same has the same content.</summary>
    public static RuleSetDocument Clean(RuleSetDocument document) =>
        document with
        {
            Publisher = Clean(document.Publisher),
            Title = Clean(document.Title),
            Edition = Clean(document.Edition),
            Caution = Clean(document.Caution),
            Figures =
            [
                .. document.Figures.Select(f =>
                    f with
                    {
                        Clause = Clean(f.Clause),
                        What = Clean(f.What),
                        Printed = Clean(f.Printed),
                        Unit = (f.Lower ?? f.Upper) is null ? null : Clean(f.Unit!),
                        Caution = string.IsNullOrWhiteSpace(f.Caution) ? null : Clean(f.Caution),
                        Sizes = f.Sizes is { Count: > 0 } ? f.Sizes : null,
                    }
                ),
            ],
        };

    private static string Clean(string text) => text.Trim().Normalize();

    private sealed class DecimalText : JsonConverter<decimal>
    {
        private const decimal One = 1.0000000000000000000000000000m;

        public override decimal Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.String
            && decimal.TryParse(
                reader.GetString(),
                NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign,
                CultureInfo.InvariantCulture,
                out var value
            )
                ? value
                : throw new JsonException();

        // Division by a one with 28 zeros drops the trailing zeros of a decimal.
        public override void Write(Utf8JsonWriter writer, decimal value, JsonSerializerOptions options) =>
            writer.WriteStringValue((value / One).ToString(CultureInfo.InvariantCulture));
    }
}
