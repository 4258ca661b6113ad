using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopFloor.Web.Api;

/// <summary>Instants as callers write them: RFC 3339, date and time with an offset. Without one, the server's own zone would decide what was meant.</summary>
public sealed class Instants : JsonConverter<DateTimeOffset>
{
    /// <summary>Reads e.g. <c>2026-03-02T09:30:00.125Z</c> or <c>2026-03-02T10:30:00+01:00</c>; false for everything else.</summary>
    public static bool TryRead([NotNullWhen(true)] string? text, out DateTimeOffset instant)
    {
        instant = default;
        return text is { Length: >= 20 }
            && text[10] == 'T'
            && (text[^1] == 'Z' || (text[^6] is '+' or '-' && text[^3] == ':'))
            && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out instant);
    }

    public override DateTimeOffset Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.String && TryRead(reader.GetString(), out var instant)
            ? instant
            : throw new JsonException();

    public override void Write(Utf8JsonWriter writer, DateTimeOffset value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value);
}
