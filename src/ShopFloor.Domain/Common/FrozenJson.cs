using System.Text.Json;
using System.Text.Json.Serialization;

namespace ShopFloor.Domain.Common;

/// <summary>How papers that are frozen for good are written before they are hashed: camel case, enums as words, decimals as strings so that no reader can change them.</summary>
internal static class FrozenJson
{
    public static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase), new DecimalAsString() },
    };
}
