using System.Runtime.CompilerServices;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>A price book's entries by code, made once for each book: pricing follows every answer at the counter.</summary>
internal sealed class BookIndex
{
    private static readonly ConditionalWeakTable<PriceBook, BookIndex> Made = [];
    private readonly Dictionary<Answer, ChosenAnswer> answers = new(ReferenceEqualityComparer.Instance);

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
        foreach (var question in book.Questions)
        {
            foreach (var answer in question.Answers)
            {
                answers[answer] = ChosenAnswer.Of(question, answer);
            }
        }

        KitRules = book.Kits.ToDictionary(
            k => k.Code,
            k => "The kit at its price in the price book: " + string.Join("; ", k.Contents) + ".",
            StringComparer.Ordinal
        );
        WorkSource = $"Route template; {Source}; condition as answered";
        EstimateSource = "Three-point estimate (low + 4 × likely + high) ÷ 6; " + Source;
        SpreadInput = new("Whole-car spread", Figures.Plain(decimal.Round(book.WholeCarSpread * 100, 2)) + " %");
    }

    /// <summary>Texts that every quote of this book repeats.</summary>
    public IReadOnlyDictionary<string, StandardText> StandardTexts { get; }

    public IReadOnlyDictionary<string, string> RateTexts { get; }

    /// <summary>What a kit's own line says it holds, by the kit's code.</summary>
    public IReadOnlyDictionary<string, string> KitRules { get; }

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
            ? [.. Book.Questions.Select(q => answers[PriceBook.AnswerTo(q, scope.Condition)])]
            : [];
}

/// <summary>A question with the answer that counts.</summary>
/// <param name="Factors">What it multiplies, by labour standard; factors of 1 are left out.</param>
internal sealed record ChosenAnswer(
    Question Question,
    Answer Answer,
    IReadOnlyList<KeyValuePair<string, AppliedFactor>> Factors
)
{
    internal static ChosenAnswer Of(Question question, Answer answer) =>
        new(
            question,
            answer,
            [
                .. answer
                    .Factors.Where(f => f.Multiplier != 1)
                    .Select(f => KeyValuePair.Create(f.StandardCode, AppliedFactor.Of(question, answer, f))),
            ]
        );
}

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
