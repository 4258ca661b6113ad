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
        StandardTexts = book.Standards.ToDictionary(s => s.Code, StandardText.Of, StringComparer.Ordinal);
        RateTexts = book.Skills.ToDictionary(
            s => s.Code,
            s => Figures.Money(book, s.RateMinorPerHour) + " per hour",
            StringComparer.Ordinal
        );
        WorkSource = $"Route template; {Source}; condition as answered";
        EstimateSource = "Three-point estimate (low + 4 × likely + high) ÷ 6; " + Source;
        SpreadInput = new("Whole-car spread", Figures.Plain(decimal.Round(book.WholeCarSpread * 100, 2)) + " %");
    }

    /// <summary>Texts that every quote of this book repeats.</summary>
    public IReadOnlyDictionary<string, StandardText> StandardTexts { get; }

    public IReadOnlyDictionary<string, string> RateTexts { get; }

    public string WorkSource { get; }

    public string EstimateSource { get; }

    public ExplanationInput SpreadInput { get; }

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

/// <summary>How a labour standard is said in explanations.</summary>
/// <param name="Content">Stands behind the quantity: " mm (Weld on tube)".</param>
/// <param name="Inputs">Its minutes, or its arc and cooling.</param>
internal sealed record StandardText(string Content, IReadOnlyList<ExplanationInput> Inputs)
{
    internal static StandardText Of(LabourStandard standard) =>
        new(
            $" {standard.Unit} ({standard.Title})",
            standard.Runs is { } runs
                ?
                [
                    new("Arc for each run", Range(runs.ArcSeconds)),
                    new("Cooling after each run", Range(runs.CoolingSeconds)),
                ]
                :
                [
                    new(
                        $"Minutes per {standard.Unit}",
                        $"{Figures.Plain(standard.LowMinutes)} low, {Figures.Plain(standard.LikelyMinutes)} likely, {Figures.Plain(standard.HighMinutes)} high"
                    ),
                ]
        );

    private static string Range(SecondsRange seconds) =>
        $"{Figures.Plain(seconds.Low)} low, {Figures.Plain(seconds.Likely)} likely, {Figures.Plain(seconds.High)} high seconds";
}
