using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>What a changed choice does to one line.</summary>
/// <param name="BeforeMinor">Net before; 0 where the line is new.</param>
/// <param name="AfterMinor">Net after; 0 where the line falls away.</param>
public sealed record LineChange(string Code, string Description, long BeforeMinor, long AfterMinor);

/// <summary>What would change if one thing were chosen otherwise.</summary>
/// <param name="Sentence">"Both doors fixed: 4.5 h and 320.00 EUR less."</param>
/// <param name="Scope">What would be sold then.</param>
/// <param name="OutsideWorkCodes">Outside work that would be in it.</param>
/// <param name="Lines">The lines that differ.</param>
public sealed record Alternative(
    string Sentence,
    decimal HoursMore,
    long TotalMinorMore,
    JobScope Scope,
    IReadOnlyList<string> OutsideWorkCodes,
    IReadOnlyList<LineChange> Lines
);

/// <summary>Answers "what if" at the counter: one other choice at a time, priced by the same engine.</summary>
public static class WhatIf
{
    /// <summary>Every single choice that would change hours or price: doors, kit, outside work, then the condition's answers.</summary>
    /// <param name="input">What is priced now; anything that cannot be priced has no alternatives.</param>
    /// <param name="contentOf">The route's work content for a scope.</param>
    public static IReadOnlyList<Alternative> Of(
        PriceBook book,
        PriceInput input,
        Func<JobScope, IReadOnlyList<WorkContent>> contentOf
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(contentOf);
        if (!PriceEngine.Price(book, input).TryGet(out var now, out _))
        {
            return [];
        }

        var alternatives = new List<Alternative>();
        foreach (var (what, changed) in Choices(book, input))
        {
            var content = ReferenceEquals(changed.Scope, input.Scope) ? input.Content : contentOf(changed.Scope);
            if (
                content.Count > 0
                && PriceEngine.Price(book, changed with { Content = content }).TryGet(out var then, out _)
                && Between(book, what, changed, now, then) is { Lines.Count: > 0 } alternative
            )
            {
                alternatives.Add(alternative);
            }
        }

        return alternatives;
    }

    private static IEnumerable<(string What, PriceInput Changed)> Choices(PriceBook book, PriceInput input)
    {
        var scope = input.Scope;
        foreach (var hinge in scope.Doors.Count > 0 ? book.HingeOptions : [])
        {
            if (scope.Doors.Any(d => d.HingeOptionCode != hinge.Code))
            {
                var doors = scope.Doors.Select(d => d with { HingeOptionCode = hinge.Code }).ToList();
                var what = scope.Doors.Count == 2 ? "Both doors " : "The door ";
                yield return (what + hinge.Title, input with { Scope = scope with { Doors = doors } });
            }
        }

        foreach (var kit in scope.KitCode is null ? [] : book.Kits.Where(k => k.Code != scope.KitCode))
        {
            yield return ($"{kit.Title} instead", input with { Scope = WithKit(book, scope, kit) });
        }

        foreach (var work in book.OutsideWork)
        {
            var chosen = input.Extras.OutsideWorkCodes;
            var isIn = chosen.Contains(work.Code, StringComparer.Ordinal);
            IReadOnlyList<string> codes = isIn ? [.. chosen.Where(c => c != work.Code)] : [.. chosen, work.Code];
            yield return (
                (isIn ? "Without " : "With ") + work.Title,
                input with
                {
                    Extras = input.Extras with { OutsideWorkCodes = codes },
                }
            );
        }

        foreach (var question in scope.Kind == SaleKind.Fitted ? book.Questions : [])
        {
            var now = PriceBook.AnswerTo(question, scope.Condition);
            foreach (var answer in question.Answers.Where(a => a.Code != now.Code))
            {
                var condition = new Dictionary<string, string>(scope.Condition, StringComparer.Ordinal)
                {
                    [question.Code] = answer.Code,
                };
                yield return (
                    $"{question.Title}: {answer.Title} instead of {now.Title}",
                    input with
                    {
                        Scope = scope with { Condition = condition },
                    }
                );
            }
        }
    }

    private static JobScope WithKit(PriceBook book, JobScope scope, Kit kit) =>
        scope with
        {
            KitCode = kit.Code,
            Doors =
                !kit.HasDoorBars ? []
                : scope.Doors.Count > 0 || book.HingeOptions.Count == 0 ? scope.Doors
                : [.. Enum.GetValues<DoorSide>().Select(d => new DoorChoice(d, book.HingeOptions[0].Code))],
        };

    private static Alternative Between(
        PriceBook book,
        string what,
        PriceInput changed,
        PricedQuote now,
        PricedQuote then
    )
    {
        var hours = then.Hours.Priced - now.Hours.Priced;
        var minor = then.TotalMinor - now.TotalMinor;
        return new Alternative(
            $"{what}: {DifferenceWords.Of(book.Currency, hours, minor)}.",
            hours,
            minor,
            changed.Scope,
            changed.Extras.OutsideWorkCodes,
            Changes(now, then)
        );
    }

    private static List<LineChange> Changes(PricedQuote now, PricedQuote then)
    {
        var after = then.Lines.ToDictionary(l => l.Code, StringComparer.Ordinal);
        var before = now.Lines.Select(l => l.Code).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. now
                .Lines.Select(l => new LineChange(
                    l.Code,
                    l.Description,
                    l.NetMinor,
                    after.GetValueOrDefault(l.Code)?.NetMinor ?? 0
                ))
                .Concat(
                    then.Lines.Where(l => !before.Contains(l.Code))
                        .Select(l => new LineChange(l.Code, l.Description, 0, l.NetMinor))
                )
                .Where(c => c.BeforeMinor != c.AfterMinor),
        ];
    }
}
