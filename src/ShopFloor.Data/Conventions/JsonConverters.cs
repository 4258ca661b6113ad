using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Data.Conventions;

/// <summary>Wrapped ids are plain GUID strings in JSON.</summary>
public sealed class EntityIdJsonConverterFactory : JsonConverterFactory
{
    public override bool CanConvert(Type typeToConvert) =>
        typeToConvert.IsValueType
        && typeToConvert
            .GetInterfaces()
            .Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(IEntityId<>));

    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(EntityIdJsonConverter<>).MakeGenericType(typeToConvert))!;

    private sealed class EntityIdJsonConverter<TId> : JsonConverter<TId>
        where TId : struct, IEntityId<TId>
    {
        public override TId Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            TId.From(reader.GetGuid());

        public override void Write(Utf8JsonWriter writer, TId value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.Value);
    }
}

public sealed class CurrencyJsonConverter : JsonConverter<Currency>
{
    public override Currency Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Currency.TryParse(reader.GetString(), out var currency)
            ? currency
            : throw new JsonException("Unknown currency.");

    public override void Write(Utf8JsonWriter writer, Currency value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value.Code);
}

public sealed class LengthJsonConverter : JsonConverter<Length>
{
    public override Length Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Length.FromMillimetres(reader.GetDouble());

    public override void Write(Utf8JsonWriter writer, Length value, JsonSerializerOptions options) =>
        writer.WriteNumberValue(value.Millimetres);
}

public sealed class AngleJsonConverter : JsonConverter<Angle>
{
    public override Angle Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Angle.FromDegrees(reader.GetDouble());

    public override void Write(Utf8JsonWriter writer, Angle value, JsonSerializerOptions options) =>
        writer.WriteNumberValue(value.Degrees);
}
