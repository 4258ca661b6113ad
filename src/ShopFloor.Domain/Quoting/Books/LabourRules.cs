using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Checks skills, labour standards and the questions that multiply them.</summary>
internal static class LabourRules
{
    private const decimal LargestMinutes = 100_000;
    private const decimal LargestSeconds = 86_400;

    internal static void Check(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Skills.Count; i++)
        {
            TotalsRules.CheckAmount(
                book.Skills[i].CostMinorPerHour,
                $"skills[{i}].costMinorPerHour",
                "The cost of an hour",
                errors
            );
        }

        for (var i = 0; i < book.Standards.Count; i++)
        {
            CheckStandard(book.Standards[i], $"standards[{i}]", errors);
        }

        for (var i = 0; i < book.Questions.Count; i++)
        {
            CheckQuestion(book, book.Questions[i], $"questions[{i}]", errors);
        }
    }

    private static void CheckStandard(LabourStandard standard, string path, FieldErrors errors)
    {
        TextRules.Required(standard.Unit, path + ".unit", "The unit", TextRules.Code, errors);
        TextRules.Optional(standard.Process, path + ".process", "The process", TextRules.Code, errors);
        TextRules.Optional(standard.Position, path + ".position", "The position", TextRules.Code, errors);
        if (standard.Runs is not { } runs)
        {
            errors.AddIf(
                !Rises(standard.LowMinutes, standard.LikelyMinutes, standard.HighMinutes, LargestMinutes),
                path,
                "Minutes must rise from low over likely to high, the high ones over 0 and at most 100,000."
            );
            return;
        }

        errors.AddIf(
            standard is not { LowMinutes: 0, LikelyMinutes: 0, HighMinutes: 0 },
            path,
            "Work in short runs is timed by its runs; leave the minutes per unit at 0."
        );
        errors.AddIf(runs.RunMm is < 1 or > 1_000, path + ".runs.runMm", "A run is 1 to 1,000 mm long.");
        foreach (var (name, s) in new[] { ("arcSeconds", runs.ArcSeconds), ("coolingSeconds", runs.CoolingSeconds) })
        {
            errors.AddIf(
                s is null || !Rises(s.Low, s.Likely, s.High, LargestSeconds),
                $"{path}.runs.{name}",
                "Seconds must rise from low over likely to high, the high ones over 0 and at most 86,400."
            );
        }
    }

    private static bool Rises(decimal low, decimal likely, decimal high, decimal largest) =>
        low >= 0 && likely >= low && high >= likely && high > 0 && high <= largest;

    private static void CheckQuestion(PriceBook book, Question question, string path, FieldErrors errors)
    {
        PriceBookRules.CheckCodes(question.Answers.Select(a => (a.Code, a.Title)), path + ".answers", 1, errors);
        errors.AddIf(
            question.Answers.All(a => a.Code != question.Default),
            path + ".default",
            $"The default '{question.Default}' is none of the question's answers."
        );
        for (var j = 0; j < question.Answers.Count; j++)
        {
            CheckAnswer(book, question.Answers[j], $"{path}.answers[{j}]", errors);
        }
    }

    private static void CheckAnswer(PriceBook book, Answer answer, string path, FieldErrors errors)
    {
        errors.AddIf(
            answer.Factors.Any(f => book.FindStandard(f.StandardCode) is null || f.Multiplier is < 0.1m or > 10),
            path + ".factors",
            "A factor names a labour standard of the book and multiplies it by 0.1 to 10."
        );
        errors.AddIf(
            answer.Factors.DistinctBy(f => f.StandardCode).Count() != answer.Factors.Count,
            path + ".factors",
            "A labour standard is multiplied once by an answer; take the second factor out."
        );
        PriceBookRules.CheckCount(answer.Factors.Count, path + ".factors", errors);
        PriceBookRules.CheckCount(answer.Precautions.Count, path + ".precautions", errors);
        PriceBookRules.CheckCount(answer.Gates.Count, path + ".gates", errors);
        PriceBookRules.CheckCount(answer.Operations.Count, path + ".operations", errors);
        for (var i = 0; i < answer.Precautions.Count; i++)
        {
            TextRules.Required(
                answer.Precautions[i],
                $"{path}.precautions[{i}]",
                "The precaution",
                TextRules.ShortText,
                errors
            );
        }

        for (var i = 0; i < answer.Gates.Count; i++)
        {
            TextRules.Required(answer.Gates[i], $"{path}.gates[{i}]", "The gate", TextRules.ShortText, errors);
        }

        for (var i = 0; i < answer.Operations.Count; i++)
        {
            TextRules.Required(
                answer.Operations[i],
                $"{path}.operations[{i}]",
                "The operation's number",
                TextRules.Code,
                errors
            );
        }

        KitRules.CheckWork(book, answer.Work, path + ".work", errors);
        errors.AddIf(
            answer.LeavesTankFitted
                && (answer.Operations.Count == 0 || answer.Gates.Count == 0 || answer.Work.Count == 0),
            path,
            "A tank that stays fitted needs its assessment as an operation, a gate until it is recorded, and a watcher's work; it is never only a factor."
        );
    }
}
