using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>An answer's code with its words.</summary>
public sealed record AnswerJson(string Code, string Title, IReadOnlyList<string> Precautions);

/// <summary>A question about the car's condition: the codes that a quote may answer, the one that is assumed, and the words for people.</summary>
public sealed record QuestionJson(
    string Code,
    string Title,
    IReadOnlyList<string> Answers,
    string Default,
    IReadOnlyList<AnswerJson> AnswerTexts
);

/// <summary>What an answer multiplies.</summary>
public sealed record FactorJson(string QuestionCode, string AnswerCode, string StandardCode, decimal Multiplier);

/// <summary>The price book in the API.</summary>
public sealed record PriceBookJson(
    int Edition,
    DateOnly EffectiveFrom,
    string Title,
    string Currency,
    bool PricesIncludeTax,
    MoneyRounding Rounding,
    TaxPer TaxPer,
    DepositRule Deposit,
    MinimumCharge? Minimum,
    decimal MarginTargetPercent,
    int ValidityDays,
    int PromiseDays,
    decimal WholeCarSpread,
    int ConfidencePercent,
    IReadOnlyList<UseOfCar> Uses,
    IReadOnlyList<Kit> Kits,
    IReadOnlyList<HingeOption> HingeOptions,
    IReadOnlyList<QuestionJson> Questions,
    IReadOnlyList<SkillRate> Rates,
    IReadOnlyList<LabourStandard> Standards,
    IReadOnlyList<FactorJson> Factors,
    IReadOnlyList<Material> Materials,
    IReadOnlyList<OutsideWork> OutsideWork,
    Freight? Freight,
    IReadOnlyList<BookTax> Taxes
)
{
    public static PriceBookJson Of(Book book) =>
        new(
            book.Edition,
            book.EffectiveFrom,
            book.Title,
            book.CurrencyCode,
            book.PricesIncludeTax,
            book.Rounding,
            book.TaxPer,
            book.Deposit,
            book.Minimum,
            book.MarginTargetPercent,
            book.ValidityDays,
            book.PromiseDays,
            book.WholeCarSpread,
            book.ConfidencePercent,
            book.Uses,
            book.Kits,
            book.HingeOptions,
            [
                .. book.Questions.Select(q => new QuestionJson(
                    q.Code,
                    q.Title,
                    [.. q.Answers.Select(a => a.Code)],
                    q.Default,
                    [.. q.Answers.Select(a => new AnswerJson(a.Code, a.Title, a.Precautions))]
                )),
            ],
            book.Skills,
            book.Standards,
            [
                .. book.Questions.SelectMany(q =>
                    q.Answers.SelectMany(a =>
                        a.Factors.Select(f => new FactorJson(q.Code, a.Code, f.StandardCode, f.Multiplier))
                    )
                ),
            ],
            book.Materials,
            book.OutsideWork,
            book.Freight,
            book.Taxes
        );
}
