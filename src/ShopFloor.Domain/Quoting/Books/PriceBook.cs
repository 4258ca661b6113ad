using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>The shop's prices, rates and standards as they stood on one day. A document: read whole, never edited once adopted; a change is a new edition.</summary>
/// <param name="Edition">1, 2, 3 …; 0 in a document that has not been adopted yet.</param>
/// <param name="EffectiveFrom">The local day from which it is used.</param>
/// <param name="Title">As people read it.</param>
/// <param name="CurrencyCode">ISO 4217; all amounts are minor units of it.</param>
/// <param name="PricesIncludeTax">True where the prices below are what a customer pays, tax inside.</param>
/// <param name="DepositPercent">Part of the amount due asked for when the quote is accepted, 0 to 100.</param>
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
    decimal DepositPercent,
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

/// <summary>What the shop sells as one set: tubes, plates, hardware.</summary>
/// <param name="HasDoorBars">Whether a hinge option is chosen for each door.</param>
/// <param name="Contents">What is in it, a sentence each.</param>
public sealed record Kit(
    string Code,
    string Title,
    bool HasDoorBars,
    long PriceMinor,
    IReadOnlyList<string> Contents,
    IReadOnlyList<string> TaxCodes
);

/// <summary>How a door bar opens; chosen for each door.</summary>
/// <param name="PriceMinor">Hardware for one door.</param>
public sealed record HingeOption(
    string Code,
    string Title,
    string Description,
    long PriceMinor,
    IReadOnlyList<string> TaxCodes
);

/// <summary>A skill and what an hour of it costs the customer.</summary>
public sealed record SkillRate(string Code, string Title, long RateMinorPerHour, IReadOnlyList<string> TaxCodes);

/// <summary>Minutes for one unit of work content, with their range; before condition factors.</summary>
/// <param name="Unit">What is counted: mm, m², panel, joint.</param>
public sealed record LabourStandard(
    string Code,
    string Title,
    string Unit,
    decimal LowMinutes,
    decimal LikelyMinutes,
    decimal HighMinutes
);

/// <summary>Something asked about the car's condition.</summary>
/// <param name="Default">Code of the answer that is assumed until somebody looks.</param>
public sealed record Question(string Code, string Title, string Default, IReadOnlyList<Answer> Answers);

/// <summary>One answer, what it multiplies and what it asks people to be careful about.</summary>
public sealed record Answer(
    string Code,
    string Title,
    IReadOnlyList<ConditionFactor> Factors,
    IReadOnlyList<string> Precautions
);

/// <summary>Multiplies one labour standard's minutes.</summary>
/// <param name="Multiplier">0.1 to 10.</param>
public sealed record ConditionFactor(string StandardCode, decimal Multiplier);

public enum MaterialGroup
{
    Consumables,
    Paint,
}

/// <summary>Consumables and paint, charged by the work content they go with.</summary>
/// <param name="Unit">What one priced unit is: "m of weld", "m²".</param>
/// <param name="StandardCodes">Whose work content is counted.</param>
/// <param name="ContentPerUnit">Work content in one priced unit: 1000 where standards count mm and the price is for a metre.</param>
public sealed record Material(
    string Code,
    string Title,
    MaterialGroup Group,
    string Unit,
    IReadOnlyList<string> StandardCodes,
    decimal ContentPerUnit,
    long PriceMinor,
    IReadOnlyList<string> TaxCodes
);

/// <summary>Carriage of the kit's material to the shop, the same for each kit.</summary>
public sealed record Freight(string Title, long PriceMinor, IReadOnlyList<string> TaxCodes);

/// <summary>A tax the shop charges.</summary>
public sealed record BookTax(string Code, string Title, decimal RatePercent);
