using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Finds conditions of a route that could never hold, because they ask for what the price book does not have: what hangs on them would silently stay off every job.</summary>
internal static class RouteConditionCheck
{
    public static IEnumerable<FieldError> Problems(RouteTemplate template, PriceBook book)
    {
        var known = new Known(book);
        foreach (var (i, operation) in template.Operations.Index())
        {
            var path = $"operations[{i}]";
            foreach (
                var (at, when) in operation
                    .Gates.Select((g, n) => ($"{path}.gates[{n}].when", g.When))
                    .Concat(operation.Work.Select((w, n) => ($"{path}.work[{n}].when", w.When)))
                    .Prepend((path + ".when", operation.When))
            )
            {
                foreach (var (sort, code) in Unknown(when, known))
                {
                    yield return new FieldError(
                        at,
                        $"{operation.Code}: a condition asks for the {sort} {code}, which the price book does not have; it would never hold."
                    );
                }
            }
        }
    }

    private static IEnumerable<(string Sort, string Code)> Unknown(RouteCondition? when, Known known)
    {
        if (when is null)
        {
            yield break;
        }

        foreach (
            var wrong in when
                .Uses.Where(u => !known.Uses.Contains(u))
                .Select(u => ("use", u))
                .Concat(when.Hinges.Where(h => !known.Hinges.Contains(h)).Select(h => ("hinge option", h)))
                .Concat(when.Answers.Keys.Where(q => !known.Answers.ContainsKey(q)).Select(q => ("question", q)))
                .Concat(
                    when.Answers.Where(a => known.Answers.ContainsKey(a.Key))
                        .SelectMany(a =>
                            a.Value.Where(v => !known.Answers[a.Key].Contains(v)).Select(v => ($"answer to {a.Key}", v))
                        )
                )
        )
        {
            yield return wrong;
        }
    }

    private sealed class Known(PriceBook book)
    {
        public HashSet<string> Uses { get; } = [.. book.Uses.Select(u => u.Code)];
        public HashSet<string> Hinges { get; } = [.. book.HingeOptions.Select(h => h.Code)];
        public Dictionary<string, HashSet<string>> Answers { get; } =
            book.Questions.ToDictionary(q => q.Code, q => q.Answers.Select(a => a.Code).ToHashSet());
    }
}
