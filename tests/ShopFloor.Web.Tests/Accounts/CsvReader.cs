using System.Text;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Reads RFC 4180 the long way round, so that it shares no code with what writes it.</summary>
internal static class CsvReader
{
    public static IEnumerable<IReadOnlyList<string>> Read(string text)
    {
        var fields = new List<string>();
        var field = new StringBuilder();
        var isQuoted = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            switch (c)
            {
                case '"' when isQuoted && i + 1 < text.Length && text[i + 1] == '"':
                    field.Append('"');
                    i++;
                    break;
                case '"':
                    isQuoted = !isQuoted;
                    break;
                case ',' when !isQuoted:
                    fields.Add(field.ToString());
                    field.Clear();
                    break;
                case '\r' when !isQuoted:
                    Assert.Equal('\n', text[++i]);
                    fields.Add(field.ToString());
                    field.Clear();
                    yield return fields;
                    fields = [];
                    break;
                default:
                    field.Append(c);
                    break;
            }
        }

        Assert.Empty(fields);
    }
}
