using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using ShopFloor.Domain.Common;

namespace ShopFloor.Data.Conventions;

internal sealed class EntityIdConverter<TId>() : ValueConverter<TId, Guid>(id => id.Value, value => Wrap(value))
    where TId : struct, IEntityId<TId>
{
    // An expression tree cannot call a static interface member itself.
    private static TId Wrap(Guid value) => TId.From(value);
}

/// <summary>SQLite has no instant type that sorts: UTC ticks do.</summary>
internal sealed class UtcTicksConverter()
    : ValueConverter<DateTimeOffset, long>(v => v.UtcTicks, v => new DateTimeOffset(v, TimeSpan.Zero));

/// <summary>PostgreSQL takes instants with offset 0 only.</summary>
internal sealed class ToUtcConverter()
    : ValueConverter<DateTimeOffset, DateTimeOffset>(v => v.ToUniversalTime(), v => v);

internal sealed class CurrencyConverter() : ValueConverter<Currency, string>(c => c.Code, code => Currency.Of(code));

internal sealed class LengthConverter()
    : ValueConverter<Length, double>(l => l.Millimetres, mm => Length.FromMillimetres(mm));

internal sealed class AngleConverter() : ValueConverter<Angle, double>(a => a.Degrees, d => Angle.FromDegrees(d));

/// <summary>How values are written into JSON columns and into events: camelCase, enums as text, nothing clever.</summary>
public static class StoredJson
{
    public static JsonSerializerOptions Options { get; } = Create();

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.General)
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            Converters =
            {
                new EnumWords(),
                new EntityIdJsonConverterFactory(),
                new CurrencyJsonConverter(),
                new LengthJsonConverter(),
                new AngleJsonConverter(),
            },
        };
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }
}

public static class JsonColumns
{
    /// <summary>Keeps a value that is only ever read with its owner as one JSON text column; change is seen by comparing the JSON.</summary>
    public static PropertyBuilder<T> HasJsonConversion<T>(this PropertyBuilder<T> property) =>
        property.HasConversion(
            new ValueConverter<T, string>(
                v => JsonSerializer.Serialize(v, StoredJson.Options),
                text => JsonSerializer.Deserialize<T>(text, StoredJson.Options)!
            ),
            new ValueComparer<T>(
                (a, b) =>
                    JsonSerializer.Serialize(a, StoredJson.Options) == JsonSerializer.Serialize(b, StoredJson.Options),
                v => JsonSerializer.Serialize(v, StoredJson.Options).GetHashCode(StringComparison.Ordinal),
                v => JsonSerializer.Deserialize<T>(JsonSerializer.Serialize(v, StoredJson.Options), StoredJson.Options)!
            )
        );
}
