using System.Text;

namespace ShopFloor.Web.Features.History;

/// <summary>Event types as people read them.</summary>
public static class EventWords
{
    /// <summary><c>operation.finished</c> becomes "Operation finished", <c>signOff.withdrawn</c> "Sign off withdrawn".</summary>
    public static string Of(string type)
    {
        var words = new StringBuilder();
        foreach (var c in type)
        {
            if (c is '.' or '-')
            {
                words.Append(' ');
            }
            else if (char.IsUpper(c))
            {
                words.Append(' ').Append(char.ToLowerInvariant(c));
            }
            else
            {
                words.Append(words.Length == 0 ? char.ToUpperInvariant(c) : c);
            }
        }

        return words.ToString();
    }

    public static string Actor(string kind) =>
        kind switch
        {
            "integration" => "A program, by its key",
            "link" => "Somebody with the link",
            "system" => "The program itself",
            _ => "Somebody who has left",
        };
}
