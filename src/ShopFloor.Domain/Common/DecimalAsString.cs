using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopFloor.Domain.Common;

/// <summary>Decimals in hashed JSON are strings without trailing zeros, so that 2.50 and 2.5 have one hash and no reader turns them into doubles.</summary>
internal sealed class DecimalAsString : JsonConverter<decimal>
{
    public override decimal Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        decimal.Parse(reader.GetString()!, NumberStyles.Number, CultureInfo.InvariantCulture);

    public override void Write(Utf8JsonWriter writer, decimal value, JsonSerializerOptions options) =>
        writer.WriteStringValue(value.ToString("0.############################", CultureInfo.InvariantCulture));
}
