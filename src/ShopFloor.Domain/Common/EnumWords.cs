using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopFloor.Domain.Common;

/// <summary>A choice in JSON is one of its words in camelCase, written exactly. The framework's own converter also takes numbers in strings and lists of
/// words, from which values that exist nowhere could be made.</summary>
public sealed class EnumWords : JsonConverterFactory
{
    /// <summary>The words of a choice, in the order of their declaration.</summary>
    public static IReadOnlyList<string> Of(Type choice) =>
        [.. Enum.GetNames(choice).Select(JsonNamingPolicy.CamelCase.ConvertName)];

    public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Words<>).MakeGenericType(typeToConvert))!;

    private sealed class Words<T> : JsonConverter<T>
        where T : struct, Enum
    {
        private static readonly Dictionary<string, T> Values = Enum.GetNames<T>()
            .ToDictionary(JsonNamingPolicy.CamelCase.ConvertName, Enum.Parse<T>, StringComparer.Ordinal);

        private static readonly Dictionary<T, string> Names = Values.ToDictionary(v => v.Value, v => v.Key);

        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.String ? ValueOf(reader.GetString()) : throw new JsonException();

        public override T ReadAsPropertyName(
            ref Utf8JsonReader reader,
            Type typeToConvert,
            JsonSerializerOptions options
        ) => ValueOf(reader.GetString());

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteStringValue(Names[value]);

        public override void WriteAsPropertyName(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WritePropertyName(Names[value]);

        private static T ValueOf(string? word) =>
            word is not null && Values.TryGetValue(word, out var value) ? value : throw new JsonException();
    }
}
