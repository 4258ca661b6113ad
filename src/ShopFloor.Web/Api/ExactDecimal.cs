using System.Buffers;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopFloor.Web.Api;

/// <summary>Reads a number as written or not at all: one with more digits than a decimal holds is refused instead of being rounded in silence.</summary>
public sealed class ExactDecimal : JsonConverter<decimal?>
{
    /// <summary>A decimal holds every number of 28 significant digits.</summary>
    private const int MostDigits = 28;

    public override decimal? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType == JsonTokenType.Null)
        {
            return null;
        }

        if (reader.TokenType != JsonTokenType.Number || !reader.TryGetDecimal(out var value))
        {
            throw new JsonException();
        }

        var text = reader.HasValueSequence ? reader.ValueSequence.ToArray() : reader.ValueSpan;
        return Digits(text) <= MostDigits ? value : throw new JsonException();
    }

    public override void Write(Utf8JsonWriter writer, decimal? value, JsonSerializerOptions options)
    {
        if (value is { } number)
        {
            writer.WriteNumberValue(number);
        }
        else
        {
            writer.WriteNullValue();
        }
    }

    /// <summary>Digits from the first that is not zero to the last that is not zero, the exponent left out.</summary>
    private static int Digits(ReadOnlySpan<byte> text)
    {
        int count = 0,
            zeros = 0;
        foreach (var c in text)
        {
            if (c is (byte)'e' or (byte)'E')
            {
                break;
            }

            if (c == (byte)'0' && count > 0)
            {
                zeros++;
            }
            else if (c is > (byte)'0' and <= (byte)'9')
            {
                count += zeros + 1;
                zeros = 0;
            }
        }

        return count;
    }
}
