using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>What one answer found otherwise than assumed changes.</summary>
/// <param name="Sentence">"Rust on the floor: light found, none assumed: 1.2 h more, 102.00 EUR more."</param>
public sealed record AnswerDifference(
    string QuestionCode,
    string AssumedCode,
    string FoundCode,
    decimal HoursMore,
    long TotalMinorMore,
    string Sentence
);

/// <summary>The quote's price and hours with the condition as found, against the condition as assumed.</summary>
/// <param name="Agreed">Priced with the condition as assumed, by the same rules as <paramref name="Found"/>.</param>
/// <param name="HoursMore">Priced hours; negative where the car is better than assumed.</param>
/// <param name="Precautions">Precautions that the found condition adds.</param>
public sealed record ConditionDifference(
    PricedQuote Agreed,
    PricedQuote Found,
    decimal HoursMore,
    long TotalMinorMore,
    IReadOnlyList<AnswerDifference> Answers,
    IReadOnlyList<string> Precautions
)
{
    /// <summary>True where the car is as assumed.</summary>
    public bool IsNone => Answers.Count == 0;
}

/// <summary>Prices the same quote with the car's condition as it was found.</summary>
public static class QuoteDifference
{
    /// <summary>Answers are changed one after the other in the price book's order, so that their effects add up to the whole difference.</summary>
    /// <param name="book">The price book the quote was priced with.</param>
    /// <param name="assumed">The quote's own input.</param>
    /// <param name="found">Question code to answer code; questions left out stay as assumed.</param>
    /// <param name="contentOf">The route's work content for a scope.</param>
    public static Outcome<ConditionDifference> Between(
        PriceBook book,
        PriceInput assumed,
        IReadOnlyDictionary<string, string> found,
        Func<JobScope, IReadOnlyList<WorkContent>> contentOf
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(assumed);
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(contentOf);
        if (!With(assumed, found, contentOf, book).TryGet(out var last, out var failure))
        {
            return failure;
        }

        if (
            !PriceEngine
                .Price(book, assumed with { Content = contentOf(assumed.Scope) })
                .TryGet(out var first, out failure)
        )
        {
            return failure;
        }

        var answers = new List<AnswerDifference>();
        var condition = new Dictionary<string, string>(assumed.Scope.Condition, StringComparer.Ordinal);
        var before = first;
        foreach (var question in book.Questions)
        {
            var was = PriceBook.AnswerTo(question, assumed.Scope.Condition);
            if (!found.TryGetValue(question.Code, out var code) || code == was.Code)
            {
                continue;
            }

            condition[question.Code] = code;
            if (!With(assumed, condition, contentOf, book).TryGet(out var after, out failure))
            {
                return failure;
            }

            answers.Add(Describe(book, question, was, before, after, code));
            before = after;
        }

        return new ConditionDifference(
            first,
            last,
            last.Hours.Priced - first.Hours.Priced,
            last.TotalMinor - first.TotalMinor,
            answers,
            [.. last.Precautions.Except(first.Precautions, StringComparer.Ordinal)]
        );
    }

    private static Outcome<PricedQuote> With(
        PriceInput assumed,
        IReadOnlyDictionary<string, string> answers,
        Func<JobScope, IReadOnlyList<WorkContent>> contentOf,
        PriceBook book
    )
    {
        var condition = new Dictionary<string, string>(assumed.Scope.Condition, StringComparer.Ordinal);
        foreach (var (code, answer) in answers)
        {
            condition[code] = answer;
        }

        var scope = assumed.Scope with { Condition = condition };
        return PriceEngine.Price(book, assumed with { Scope = scope, Content = contentOf(scope) });
    }

    private static AnswerDifference Describe(
        PriceBook book,
        Question question,
        Answer was,
        PricedQuote before,
        PricedQuote after,
        string code
    )
    {
        var hours = after.Hours.Priced - before.Hours.Priced;
        var minor = after.TotalMinor - before.TotalMinor;
        var now = question.Answers.First(a => a.Code == code);
        return new AnswerDifference(
            question.Code,
            was.Code,
            code,
            hours,
            minor,
            $"{question.Title}: {now.Title} found, {was.Title} assumed: {DifferenceWords.Of(book.Currency, hours, minor)}."
        );
    }
}
