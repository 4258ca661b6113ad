using System.Globalization;
using PdfSharp.Drawing;

namespace ShopFloor.Documents.Papers.Layout;

/// <summary>Breaks text into lines.</summary>
internal static class TextFlow
{
    /// <summary>Lines no wider than <paramref name="width"/> points; a word that is wider alone is cut between characters.</summary>
    public static List<string> Wrap(XGraphics g, string text, XFont font, double width)
    {
        var lines = new List<string>();
        foreach (var paragraph in Printable.Text(text).Split('\n'))
        {
            var line = "";
            foreach (var word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                var longer = line.Length == 0 ? word : line + " " + word;
                if (Fits(g, longer, font, width))
                {
                    line = longer;
                    continue;
                }

                if (line.Length > 0)
                {
                    lines.Add(line);
                }

                line = CutWord(g, word, font, width, lines);
            }

            lines.Add(line);
        }

        return lines;
    }

    /// <summary>Adds the full lines of a word that is too wide and gives back its rest.</summary>
    private static string CutWord(XGraphics g, string word, XFont font, double width, List<string> lines)
    {
        if (Fits(g, word, font, width))
        {
            return word;
        }

        var line = "";
        var elements = StringInfo.GetTextElementEnumerator(word);
        while (elements.MoveNext())
        {
            var element = elements.GetTextElement();
            if (line.Length > 0 && !Fits(g, line + element, font, width))
            {
                lines.Add(line);
                line = "";
            }

            line += element;
        }

        return line;
    }

    private static bool Fits(XGraphics g, string text, XFont font, double width) =>
        g.MeasureString(text, font).Width <= width;
}
