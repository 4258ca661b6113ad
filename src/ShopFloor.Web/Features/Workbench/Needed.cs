using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Reads the figures of a calculator's body, each with a sentence where it is missing.</summary>
internal static class Needed
{
    /// <summary>The figure; 1, which no later rule complains of, where it is missing.</summary>
    public static double Figure(this FieldErrors errors, double? value, string path, string label)
    {
        errors.AddIf(value is null, path, $"{label} is needed.");
        return value ?? 1;
    }

    /// <summary>One of some words; the first is taken where the word is absent and <paramref name="isOptional"/>.</summary>
    public static T Word<T>(
        this FieldErrors errors,
        string? word,
        string path,
        IReadOnlyList<(string Word, T Value)> words,
        bool isOptional
    )
    {
        if (word is null && isOptional)
        {
            return words[0].Value;
        }

        foreach (var known in words)
        {
            if (known.Word == word)
            {
                return known.Value;
            }
        }

        errors.Add(path, $"Give one of: {string.Join(", ", words.Select(w => w.Word))}.");
        return words[0].Value;
    }

    /// <summary>What the calculator says, or everything that is wrong: fields that are missing before figures that are out of range.</summary>
    public static IResult Answer<T>(this FieldErrors errors, Func<Outcome<T>> calculate) =>
        errors.Any ? errors.ToFailure().ToProblem() : calculate().ToHttp();
}
