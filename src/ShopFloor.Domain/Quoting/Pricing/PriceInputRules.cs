using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Whether a price book can price what is asked; the sentences name the field and what is on offer.</summary>
internal static class PriceInputRules
{
    internal static void Check(PriceBook book, PriceInput input, FieldErrors errors)
    {
        var scope = input.Scope;
        CheckUse(book, scope, errors);
        CheckKitAndDoors(book, scope, errors);
        CheckCondition(book, scope, errors);
        foreach (var work in input.Content)
        {
            // The route template and the price book are both data: a mismatch is a fault of the data, said in words.
            errors.AddIf(
                book.FindStandard(work.StandardCode) is null,
                "kitCode",
                $"Operation {work.OperationCode} counts '{work.StandardCode}', for which {book.Source} has no labour standard."
            );
            errors.AddIf(
                book.FindSkill(work.Skill) is null,
                "kitCode",
                $"Operation {work.OperationCode} needs the skill '{work.Skill}', for which {book.Source} has no rate."
            );
            errors.AddIf(
                work.Quantity is <= 0 or > TotalsRules.LargestQuantity,
                "kitCode",
                $"Operation {work.OperationCode} counts {work.Quantity} units; over 0 and at most {TotalsRules.LargestQuantity} can be priced."
            );
        }
    }

    private static void CheckUse(PriceBook book, JobScope scope, FieldErrors errors) =>
        errors.AddIf(
            book.Uses.All(u => u.Code != scope.UseCode),
            "useCode",
            $"There is no use '{scope.UseCode}'; choose one of: {Codes(book.Uses.Select(u => u.Code))}."
        );

    private static void CheckKitAndDoors(PriceBook book, JobScope scope, FieldErrors errors)
    {
        if (book.FindKit(scope.KitCode) is not { } kit)
        {
            errors.Add(
                "kitCode",
                $"There is no kit '{scope.KitCode}'; choose one of: {Codes(book.Kits.Select(k => k.Code))}."
            );
            return;
        }

        errors.AddIf(
            kit.HasDoorBars && scope.Doors.Count == 0,
            "doors",
            $"{kit.Title} has door bars: say for each door how its bar opens."
        );
        errors.AddIf(
            !kit.HasDoorBars && scope.Doors.Count > 0,
            "doors",
            $"{kit.Title} has no door bars: leave the doors out."
        );
        for (var i = 0; i < scope.Doors.Count; i++)
        {
            var door = scope.Doors[i];
            errors.AddIf(
                scope.Doors.Take(i).Any(d => d.Door == door.Door),
                $"doors[{i}].door",
                "This door is named twice; name each door once."
            );
            errors.AddIf(
                book.FindHinge(door.HingeOptionCode) is null,
                $"doors[{i}].hingeOptionCode",
                $"There is no hinge option '{door.HingeOptionCode}'; choose one of: {Codes(book.HingeOptions.Select(h => h.Code))}."
            );
        }
    }

    private static void CheckCondition(PriceBook book, JobScope scope, FieldErrors errors)
    {
        foreach (var (code, answer) in scope.Condition)
        {
            if (book.FindQuestion(code) is not { } question)
            {
                errors.Add(
                    $"condition.{code}",
                    $"There is no question '{code}'; the questions are: {Codes(book.Questions.Select(q => q.Code))}."
                );
            }
            else
            {
                errors.AddIf(
                    question.Answers.All(a => a.Code != answer),
                    $"condition.{code}",
                    $"'{answer}' does not answer '{question.Title}'; choose one of: {Codes(question.Answers.Select(a => a.Code))}."
                );
            }
        }
    }

    private static string Codes(IEnumerable<string> codes) => string.Join(", ", codes);
}
