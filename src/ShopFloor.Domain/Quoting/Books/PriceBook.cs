using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The shop's prices, rates and standards as they stood on one day. A document: read whole, never edited once adopted; a change is a new edition.</summary>
/// <param name="Edition">1, 2, 3 …; 0 in a document that has not been adopted yet.</param>
/// <param name="EffectiveFrom">The local day from which it is used.</param>
/// <param name="Title">As people read it.</param>
/// <param name="CurrencyCode">ISO 4217; all amounts are minor units of it.</param>
/// <param name="PricesIncludeTax">True where the prices below are what a customer pays, tax inside.</param>
/// <param name="Deposit">What is asked for when a quote is accepted.</param>
/// <param name="ValidityDays">How long a sent quote can be accepted, 1 to 365 days after the day of sending.</param>
/// <param name="PromiseDays">Promise date of a quote for which nobody set another, in days after sending, 1 to 730.</param>
/// <param name="WholeCarSpread">Deviation of a whole car's hours as a fraction of their mean, 0 to 1: hours of one car rise and fall together.</param>
/// <param name="ConfidencePercent">How sure the shop wants to be of the priced hours: 50, 80, 85, 90 or 95.</param>
public sealed record PriceBook(
    int Edition,
    DateOnly EffectiveFrom,
    string Title,
    string CurrencyCode,
    bool PricesIncludeTax,
    MoneyRounding Rounding,
    TaxPer TaxPer,
    DepositRule Deposit,
    int ValidityDays,
    int PromiseDays,
    decimal WholeCarSpread,
    int ConfidencePercent,
    IReadOnlyList<UseOfCar> Uses,
    IReadOnlyList<Kit> Kits,
    IReadOnlyList<HingeOption> HingeOptions,
    IReadOnlyList<SkillRate> Skills,
    IReadOnlyList<LabourStandard> Standards,
    IReadOnlyList<Question> Questions,
    IReadOnlyList<Material> Materials,
    Freight? Freight,
    IReadOnlyList<BookTax> Taxes
)
{
    /// <summary>The least that a sale comes to; null for none.</summary>
    public MinimumCharge? Minimum { get; init; }

    /// <summary>What should be left of the net price after costs, in percent of it, 0 to 100; the counter says when a quote stays under it. 0 for no aim.</summary>
    public decimal MarginTargetPercent { get; init; }

    /// <summary>Work sent out, such as coating or bending, that a quote may include.</summary>
    public IReadOnlyList<OutsideWork> OutsideWork { get; init; } = [];

    [JsonIgnore]
    public Currency Currency => Currency.Of(CurrencyCode);

    /// <summary>How explanations name it.</summary>
    [JsonIgnore]
    public string Source => $"Price book {Edition} of {EffectiveFrom:yyyy-MM-dd}";

    public Kit? FindKit(string code) => Kits.FirstOrDefault(k => k.Code == code);

    public HingeOption? FindHinge(string code) => HingeOptions.FirstOrDefault(h => h.Code == code);

    public Question? FindQuestion(string code) => Questions.FirstOrDefault(q => q.Code == code);

    public LabourStandard? FindStandard(string code) => Standards.FirstOrDefault(s => s.Code == code);

    public SkillRate? FindSkill(string code) => Skills.FirstOrDefault(s => s.Code == code);

    public BookTax? FindTax(string code) => Taxes.FirstOrDefault(t => t.Code == code);

    public OutsideWork? FindOutsideWork(string code) => OutsideWork.FirstOrDefault(o => o.Code == code);

    /// <summary>What is sold, in words: the kit, or the kind of sale.</summary>
    public string WhatIsSold(JobScope scope)
    {
        ArgumentNullException.ThrowIfNull(scope);
        return scope.KitCode is { } kit ? FindKit(kit)?.Title ?? kit : scope.Kind.Title();
    }

    /// <summary>The answer that counts: the one given, or the question's default.</summary>
    public static Answer AnswerTo(Question question, IReadOnlyDictionary<string, string> condition)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(condition);
        var code = condition.TryGetValue(question.Code, out var given) ? given : question.Default;
        return question.Answers.First(a => a.Code == code);
    }
}

/// <summary>What the car is for: asked before the kit, because it decides which rule sets count.</summary>
public sealed record UseOfCar(string Code, string Title, bool NeedsRuleSet);
