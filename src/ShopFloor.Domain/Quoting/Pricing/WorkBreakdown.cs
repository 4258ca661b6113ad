using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>One work content of one operation, as the price engine estimates it.</summary>
/// <param name="Minutes">After condition factors.</param>
/// <param name="Answers">Answers whose factors apply to it.</param>
public sealed record WorkPart(
    string OperationCode,
    string StandardCode,
    MinutesRange Minutes,
    IReadOnlyList<GivenAnswer> Answers
)
{
    /// <summary>Expected minutes: (low + 4 × likely + high) ÷ 6.</summary>
    public decimal MeanMinutes => (Minutes.Low + (4 * Minutes.Likely) + Minutes.High) / 6;

    /// <summary>Its three points, in hours.</summary>
    public ThreePointItem Hours =>
        new((double)Minutes.Low / 60, (double)Minutes.Likely / 60, (double)Minutes.High / 60);
}

/// <summary>An answer to a question of the price book, by their codes.</summary>
public readonly record struct GivenAnswer(string Question, string Answer) : IComparable<GivenAnswer>
{
    public int CompareTo(GivenAnswer other) =>
        string.CompareOrdinal(Question, other.Question) is var order and not 0
            ? order
            : string.CompareOrdinal(Answer, other.Answer);

    public static bool operator <(GivenAnswer left, GivenAnswer right) => left.CompareTo(right) < 0;

    public static bool operator >(GivenAnswer left, GivenAnswer right) => left.CompareTo(right) > 0;

    public static bool operator <=(GivenAnswer left, GivenAnswer right) => left.CompareTo(right) <= 0;

    public static bool operator >=(GivenAnswer left, GivenAnswer right) => left.CompareTo(right) >= 0;
}

/// <summary>Takes a job's estimate apart: what each labour standard contributes to each operation by a price book.</summary>
public static class WorkBreakdown
{
    /// <param name="content">The route's work content for this scope, before condition factors.</param>
    /// <returns>A failure where the book does not know what the job was sold with any more.</returns>
    public static Outcome<IReadOnlyList<WorkPart>> Of(
        PriceBook book,
        JobScope scope,
        IReadOnlyList<WorkContent> content
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(content);
        var index = BookIndex.Of(book);
        var input = new PriceInput(scope, content, Discount.None, 0, book.EffectiveFrom);
        var errors = new FieldErrors();
        PriceInputRules.Check(index, input, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var answers = index.AnswersFor(scope);
        var all = AddedContent.Of(index, input, answers, errors);
        return errors.Any ? errors.ToFailure() : all.Select(w => Part(index, answers, w)).ToList();
    }

    private static WorkPart Part(BookIndex index, IReadOnlyList<ChosenAnswer> answers, WorkContent work)
    {
        var minutes = index.Standards[work.StandardCode].For(work.Quantity);
        var given = new List<GivenAnswer>();
        foreach (var answer in answers)
        {
            foreach (var (standard, factor) in answer.Factors)
            {
                if (standard == work.StandardCode)
                {
                    minutes = minutes.Times(factor.Multiplier);
                    given.Add(new GivenAnswer(answer.Question.Code, answer.Answer.Code));
                }
            }
        }

        return new WorkPart(work.OperationCode, work.StandardCode, minutes, given);
    }
}
