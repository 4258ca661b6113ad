using System.Reflection;
using System.Text;
using System.Text.Json;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Api;

/// <summary>How many items a list of a body may have at most, so that a body that is too large only because of it is answered with the list's name.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class AtMostAttribute(int items) : Attribute
{
    public int Items => items;
}

/// <summary>Finds, in the beginning of a body that is too large to be read, the list that has more items than it may.</summary>
internal static class OverlongList
{
    /// <summary>Lists of a body's type by their JSON name.</summary>
    public static IReadOnlyDictionary<string, int> Of(Type body) =>
        body.GetProperties()
            .Select(p => (p.Name, Most: p.GetCustomAttribute<AtMostAttribute>()?.Items))
            .Where(p => p.Most is not null)
            .ToDictionary(
                p => JsonNamingPolicy.CamelCase.ConvertName(p.Name),
                p => p.Most!.Value,
                StringComparer.Ordinal
            );

    /// <summary>A sentence at the list, or null where none of them is to blame as far as the beginning goes.</summary>
    /// <param name="beginning">UTF-8, cut off anywhere.</param>
    /// <exception cref="JsonException">The beginning is no JSON.</exception>
    public static Failure? Find(ReadOnlySpan<byte> beginning, IReadOnlyDictionary<string, int> lists)
    {
        if (lists.Count == 0)
        {
            return null;
        }

        var reader = new Utf8JsonReader(beginning, isFinalBlock: false, default);
        var (field, isList, items) = ("", false, 0);
        while (reader.Read())
        {
            switch (reader.CurrentDepth, reader.TokenType)
            {
                case (1, JsonTokenType.PropertyName):
                    field = Encoding.UTF8.GetString(reader.ValueSpan);
                    break;
                case (1, JsonTokenType.StartArray):
                    (isList, items) = (true, 0);
                    break;
                case (1, JsonTokenType.EndArray):
                    isList = false;
                    break;
                case (2, not (JsonTokenType.EndObject or JsonTokenType.EndArray or JsonTokenType.PropertyName))
                    when isList:
                    items++;
                    if (lists.TryGetValue(field, out var most) && items > most)
                    {
                        return Failure.Field(field, $"At most {most} are taken here, and more were sent.");
                    }

                    break;
            }
        }

        return null;
    }
}
