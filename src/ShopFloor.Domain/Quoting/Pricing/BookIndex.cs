using System.Runtime.CompilerServices;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A price book's entries by code, made once for each book: pricing follows every answer at the counter.</summary>
internal sealed class BookIndex
{
    private static readonly ConditionalWeakTable<PriceBook, BookIndex> Made = [];

    private BookIndex(PriceBook book)
    {
        Book = book;
        Source = book.Source;
        Standards = book.Standards.ToDictionary(s => s.Code, StringComparer.Ordinal);
        Skills = book.Skills.ToDictionary(s => s.Code, StringComparer.Ordinal);
    }

    public PriceBook Book { get; }

    public string Source { get; }

    public IReadOnlyDictionary<string, LabourStandard> Standards { get; }

    public IReadOnlyDictionary<string, SkillRate> Skills { get; }

    public static BookIndex Of(PriceBook book) => Made.GetValue(book, b => new BookIndex(b));

    /// <summary>The answers that count; only a car that is fitted has a condition to price.</summary>
    public IReadOnlyList<ChosenAnswer> AnswersFor(JobScope scope) =>
        scope.Kind == SaleKind.Fitted
            ? [.. Book.Questions.Select(q => new ChosenAnswer(q, PriceBook.AnswerTo(q, scope.Condition)))]
            : [];
}

/// <summary>A question with the answer that counts.</summary>
internal sealed record ChosenAnswer(Question Question, Answer Answer);
