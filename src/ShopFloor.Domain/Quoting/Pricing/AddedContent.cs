using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The work that hinge options and condition answers add to the route's, and the operations an answer insists on.</summary>
internal static class AddedContent
{
    /// <summary>The route's content with what the price book adds to it.</summary>
    internal static IReadOnlyList<WorkContent> Of(
        BookIndex index,
        PriceInput input,
        IReadOnlyList<ChosenAnswer> answers,
        FieldErrors errors
    )
    {
        if (!HasAny(index, input, answers))
        {
            return input.Content;
        }

        var content = new List<WorkContent>(input.Content);
        foreach (var (i, door) in input.Scope.Doors.Index())
        {
            // A shipped kit is welded in elsewhere: only its hardware goes along.
            var work = input.Scope.Kind == SaleKind.Fitted ? index.Book.FindHinge(door.HingeOptionCode)?.Work : null;
            Add(index, work ?? [], input.Content, $"doors[{i}].hingeOptionCode", content, errors);
        }

        foreach (var (question, answer, _) in answers)
        {
            var path = "condition." + question.Code;
            foreach (var code in answer.Operations.Where(c => Find(input.Content, c) is null))
            {
                errors.Add(
                    path,
                    $"'{question.Title}: {answer.Title}' needs operation {code}, which is not on this kit's route; choose another answer, or have the route completed."
                );
            }

            Add(index, answer.Work, input.Content, path, content, errors);
        }

        return content;
    }

    private static WorkContent? Find(IReadOnlyList<WorkContent> route, string operationCode)
    {
        for (var i = 0; i < route.Count; i++)
        {
            if (route[i].OperationCode == operationCode)
            {
                return route[i];
            }
        }

        return null;
    }

    private static bool HasAny(BookIndex index, PriceInput input, IReadOnlyList<ChosenAnswer> answers) =>
        answers.Any(a => a.Answer.Operations.Count > 0 || a.Answer.Work.Count > 0)
        || input.Scope.Doors.Any(d => index.Book.FindHinge(d.HingeOptionCode) is { Work.Count: > 0 });

    private static void Add(
        BookIndex index,
        IReadOnlyList<AddedWork> added,
        IReadOnlyList<WorkContent> route,
        string path,
        List<WorkContent> content,
        FieldErrors errors
    )
    {
        foreach (var work in added)
        {
            if (Find(route, work.OperationCode) is not { } operation)
            {
                errors.Add(
                    path,
                    $"The price book adds work to operation {work.OperationCode}, which is not on this route."
                );
                continue;
            }

            var item = operation with
            {
                StandardCode = work.StandardCode,
                Quantity = work.Quantity,
                Skill = work.Skill ?? operation.Skill,
            };
            PriceInputRules.CheckWork(index, item, path, errors);
            content.Add(item);
        }
    }
}
