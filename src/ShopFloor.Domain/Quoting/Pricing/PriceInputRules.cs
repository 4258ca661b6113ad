using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Whether a price book can price what is asked; the sentences name the field and what is on offer.</summary>
internal static class PriceInputRules
{
    internal static void Check(BookIndex index, PriceInput input, FieldErrors errors)
    {
        var (book, scope) = (index.Book, input.Scope);
        CheckUse(book, scope, errors);
        CheckSale(book, input, errors);
        CheckCondition(book, scope, errors);
        foreach (var work in input.Content)
        {
            // The route template and the price book are both data: a mismatch is a fault of the data, said in words.
            CheckWork(index, work, "kitCode", errors);
        }

        ExtraRules.Check(book, input, errors);
        CheckTaxes(book, input, errors);
    }

    internal static void CheckWork(BookIndex index, WorkContent work, string path, FieldErrors errors)
    {
        errors.AddIf(
            !index.Standards.ContainsKey(work.StandardCode),
            path,
            $"Operation {work.OperationCode} counts '{work.StandardCode}', for which {index.Source} has no labour standard."
        );
        errors.AddIf(
            !index.Skills.ContainsKey(work.Skill),
            path,
            $"Operation {work.OperationCode} needs the skill '{work.Skill}', for which {index.Source} has no rate."
        );
        errors.AddIf(
            work.Quantity is <= 0 or > TotalsRules.LargestQuantity,
            path,
            $"Operation {work.OperationCode} counts {work.Quantity} units; over 0 and at most {TotalsRules.LargestQuantity} can be priced."
        );
    }

    private static void CheckUse(PriceBook book, JobScope scope, FieldErrors errors) =>
        errors.AddIf(
            book.Uses.All(u => u.Code != scope.UseCode),
            "useCode",
            $"There is no use '{scope.UseCode}'; choose one of: {Codes(book.Uses.Select(u => u.Code))}."
        );

    private static void CheckSale(PriceBook book, PriceInput input, FieldErrors errors)
    {
        var scope = input.Scope;
        if (scope.Kind is SaleKind.Fitted or SaleKind.Shipped)
        {
            CheckKitAndDoors(book, scope, errors);
            errors.AddIf(
                scope.Bench.Count > 0,
                "bench",
                "With a kit the route says what is done; add a line of its own for anything beyond it."
            );
        }
        else
        {
            errors.AddIf(
                scope.KitCode is not null || scope.Doors.Count > 0,
                "kitCode",
                "Bench work and return visits have no kit and no doors; leave them out, or quote a kit."
            );
            errors.AddIf(
                scope.Bench.Count == 0 && input.Extras.Lines.Count == 0 && input.Extras.OutsideWorkCodes.Count == 0,
                "bench",
                "Say what is to be done: name the work, or add a line of its own."
            );
        }
    }

    private static void CheckKitAndDoors(PriceBook book, JobScope scope, FieldErrors errors)
    {
        if (scope.KitCode is not { } code || book.FindKit(code) is not { } kit)
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

    /// <summary>A tax that an entry of the book names must have a rate on the day, unless nobody is charged any.</summary>
    private static void CheckTaxes(PriceBook book, PriceInput input, FieldErrors errors)
    {
        foreach (var tax in input.IsTaxExempt ? [] : book.Taxes)
        {
            errors.AddIf(
                tax.RateOn(input.On) is null,
                "taxes",
                $"{tax.Title} ('{tax.Code}') has no rate on {input.On:yyyy-MM-dd}; the owner adds one in the price book."
            );
        }
    }

    internal static string Codes(IEnumerable<string> codes) => string.Join(", ", codes);
}
