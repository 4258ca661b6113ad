using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace ShopFloor.Domain.Common;

/// <summary>Canonical JSON after RFC 8785 (JSON Canonicalization Scheme): keys sorted by UTF-16 code unit, no white space, shortest escapes.</summary>
/// <remarks>Numbers are restricted to integers within ±(2⁵³ − 1), whose RFC 8785 form is their plain digits; decimals and doubles are written as strings by the caller, so that no reader can change them.</remarks>
public static class CanonicalJson
{
    private const long LargestExact = 9_007_199_254_740_991;

    /// <summary>The canonical text.</summary>
    /// <exception cref="ArgumentException">A number that is not an integer within ±(2⁵³ − 1).</exception>
    public static string Write(JsonNode? node)
    {
        var text = new StringBuilder();
        Write(node, text);
        return text.ToString();
    }

    /// <summary>Canonical text of a value through the given JSON options.</summary>
    public static string Write<T>(T value, JsonSerializerOptions options) =>
        Write(JsonSerializer.SerializeToNode(value, options));

    /// <summary>SHA-256 of the UTF-8 bytes, as 64 lower-case hex digits.</summary>
    public static string Sha256(string canonical) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(canonical)));

    private static void Write(JsonNode? node, StringBuilder text)
    {
        switch (node)
        {
            case null:
                text.Append("null");
                break;
            case JsonObject map:
                text.Append('{');
                var first = true;
                foreach (var (key, value) in map.OrderBy(p => p.Key, StringComparer.Ordinal))
                {
                    text.Append(first ? "" : ",");
                    first = false;
                    WriteString(key, text);
                    text.Append(':');
                    Write(value, text);
                }

                text.Append('}');
                break;
            case JsonArray list:
                text.Append('[');
                for (var i = 0; i < list.Count; i++)
                {
                    text.Append(i == 0 ? "" : ",");
                    Write(list[i], text);
                }

                text.Append(']');
                break;
            default:
                WriteValue(node.AsValue(), text);
                break;
        }
    }

    private static void WriteValue(JsonValue value, StringBuilder text)
    {
        switch (value.GetValueKind())
        {
            case JsonValueKind.String:
                WriteString(value.GetValue<string>(), text);
                break;
            case JsonValueKind.True:
                text.Append("true");
                break;
            case JsonValueKind.False:
                text.Append("false");
                break;
            case JsonValueKind.Number:
                var raw = value.ToJsonString();
                if (
                    !long.TryParse(raw, System.Globalization.CultureInfo.InvariantCulture, out var number)
                    || Math.Abs(number) > LargestExact
                )
                {
                    throw new ArgumentException(
                        $"{raw} is no integer within ±(2^53 − 1): write it as a string.",
                        nameof(value)
                    );
                }

                text.Append(number.ToString(System.Globalization.CultureInfo.InvariantCulture));
                break;
            default:
                text.Append("null");
                break;
        }
    }

    private static void WriteString(string value, StringBuilder text)
    {
        text.Append('"');
        foreach (var c in value)
        {
            _ = c switch
            {
                '"' => text.Append("\\\""),
                '\\' => text.Append("\\\\"),
                '\b' => text.Append("\\b"),
                '\f' => text.Append("\\f"),
                '\n' => text.Append("\\n"),
                '\r' => text.Append("\\r"),
                '\t' => text.Append("\\t"),
                < ' ' => text.Append("\\u")
                    .Append(((int)c).ToString("x4", System.Globalization.CultureInfo.InvariantCulture)),
                _ => text.Append(c),
            };
        }

        text.Append('"');
    }
}
