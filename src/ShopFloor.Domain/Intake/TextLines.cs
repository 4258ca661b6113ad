using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>A short list written one line each: blank lines fall away.</summary>
internal static class TextLines
{
    public static IReadOnlyList<string> Clean(IReadOnlyList<string?>? lines, string path, int most, FieldErrors errors)
    {
        var entered = lines ?? [];
        if (entered.Count > most)
        {
            errors.Add(
                path,
                $"{entered.Count} lines are too many; at most {most} are kept. Put several things on one line."
            );
            return [];
        }

        return
        [
            .. entered
                .Select((text, i) => TextRules.Optional(text, $"{path}[{i}]", "The line", TextRules.ShortText, errors))
                .OfType<string>(),
        ];
    }
}

/// <summary>Answers to the condition questions: codes of the price book, whose meaning is checked against it by the caller.</summary>
internal static class ConditionAnswers
{
    public static IReadOnlyDictionary<string, string> Clean(
        IReadOnlyDictionary<string, string?>? answers,
        string path,
        int most,
        FieldErrors errors
    )
    {
        var clean = new SortedDictionary<string, string>(StringComparer.Ordinal);
        if (answers?.Count > most)
        {
            errors.Add(path, $"{answers.Count} answers are too many; there are at most {most} questions.");
            return clean;
        }

        foreach (var (question, answer) in answers ?? new Dictionary<string, string?>())
        {
            if (question.Length is 0 or > TextRules.Code || answer?.Length > TextRules.Code)
            {
                errors.Add(path, $"Codes of questions and answers have 1 to {TextRules.Code} characters.");
            }
            else if (!string.IsNullOrWhiteSpace(answer))
            {
                clean[question] = answer.Trim();
            }
        }

        return clean;
    }
}
