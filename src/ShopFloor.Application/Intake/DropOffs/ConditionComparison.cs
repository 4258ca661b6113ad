using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>A condition question with what the quote assumed.</summary>
public sealed record AssumedAnswer(
    string QuestionCode,
    string Title,
    string AssumedCode,
    IReadOnlyList<AnswerChoice> Answers
);

public sealed record AnswerChoice(string Code, string Title);

/// <summary>What the condition as found changes against the quote.</summary>
/// <param name="IsNone">Found as assumed.</param>
/// <param name="HoursMore">Priced hours more; negative where fewer.</param>
/// <param name="TotalMinorMore">Total more, minor units of <paramref name="Currency"/>, tax as on the quote.</param>
/// <param name="Answers">One entry for each answer that differs; their effects add up to the whole.</param>
/// <param name="Precautions">Precautions that the found condition adds.</param>
public sealed record DifferenceView(
    bool IsNone,
    decimal HoursMore,
    long TotalMinorMore,
    string Currency,
    IReadOnlyList<AnswerDifference> Answers,
    IReadOnlyList<string> Precautions
);

/// <summary>Prices a job's quote again with another condition, by the price book and the terms the quote was made with.</summary>
public static class ConditionComparison
{
    /// <summary>Adds a sentence for each question or answer that the quote's price book does not know.</summary>
    public static void Check(
        PriceBook book,
        IReadOnlyDictionary<string, string?>? found,
        string path,
        FieldErrors errors
    )
    {
        if (found?.Count > DropOff.MostAnswers)
        {
            errors.Add(path, $"{found.Count} answers are too many; there are {book.Questions.Count} questions.");
            return;
        }

        foreach (var (code, answer) in found ?? new Dictionary<string, string?>())
        {
            var question = book.FindQuestion(code);
            errors.AddIf(question is null, $"{path}.{code}", $"The price book of the quote has no question '{code}'.");
            errors.AddIf(
                question is not null && answer is not null && question.Answers.All(a => a.Code != answer),
                $"{path}.{code}",
                $"'{answer}' is no answer to '{question?.Title}'. Choose one of: {string.Join(", ", question?.Answers.Select(a => a.Code) ?? [])}."
            );
        }
    }

    public static async Task<(Quote Quote, PriceBook Book)> LoadAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var quote = await db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == job.QuoteId, ct);
        var edition = await db.Set<PriceBookEdition>().AsNoTracking().SingleAsync(e => e.Id == quote.PriceBookId, ct);
        return (quote, edition.Book);
    }

    /// <summary>What the questions are and what was assumed, in the price book's order.</summary>
    public static IReadOnlyList<AssumedAnswer> Assumed(Quote quote, PriceBook book) =>
        [
            .. book.Questions.Select(q => new AssumedAnswer(
                q.Code,
                q.Title,
                PriceBook.AnswerTo(q, quote.Terms.Scope.Condition).Code,
                [.. q.Answers.Select(a => new AnswerChoice(a.Code, a.Title))]
            )),
        ];

    public static async Task<Outcome<DifferenceView>> CompareAsync(
        QuotePricer pricer,
        ShopDbContext db,
        Quote quote,
        IReadOnlyDictionary<string, string> found,
        CancellationToken ct
    ) =>
        (await pricer.DifferenceAsync(db, quote, found, ct)).Then<DifferenceView>(d => new DifferenceView(
            d.IsNone,
            d.HoursMore,
            d.TotalMinorMore,
            quote.Priced.CurrencyCode,
            d.Answers,
            d.Precautions
        ));
}
