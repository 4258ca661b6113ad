using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>What an hour of each skill costs the shop.</summary>
/// <param name="Source">As explanations name it.</param>
/// <param name="MinorPerHour">Minor units by skill code; a skill that is missing or at 0 has no rate.</param>
public sealed record CostRates(string Source, Currency Currency, IReadOnlyDictionary<string, long> MinorPerHour)
{
    /// <summary>Of the price book that a job was priced with.</summary>
    public static CostRates Of(PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        return new CostRates(
            book.Source,
            book.Currency,
            book.Skills.ToDictionary(s => s.Code, s => s.CostMinorPerHour, StringComparer.Ordinal)
        );
    }
}

/// <summary>Minutes logged at one skill.</summary>
public sealed record SkillMinutes(string Skill, long Minutes);

/// <summary>What the shop's own hours on a job cost it: the one rule for the job's margin and the owner's week.</summary>
/// <remarks>
/// Minutes logged on each step, those from before the car was entered here included, × the cost of an hour of the step's skill in the price book that the
/// job's quote was priced with; added up, and rounded once for the job, half away from zero. What has no rate costs nothing and is named. Common practice,
/// no source.
/// </remarks>
/// <param name="Minor">Minor units of the price book's currency.</param>
/// <param name="Minutes">All minutes that went in, those without a rate too.</param>
/// <param name="WithoutRate">Codes of skills with minutes and no rate, in order.</param>
public sealed record LabourAtCost(long Minor, long Minutes, IReadOnlyList<string> WithoutRate, Explanation Why)
{
    public const string Rule =
        "Minutes logged on each step × the cost of an hour of its skill ÷ 60; added up, rounded once for the job.";

    /// <summary>What must be said beside the figure; null where every minute has a rate.</summary>
    public string? Remark =>
        WithoutRate.Count == 0 ? null : $"labour at no cost: no rate for {string.Join(", ", WithoutRate)}";

    public static LabourAtCost Of(IEnumerable<SkillMinutes> work, CostRates rates)
    {
        ArgumentNullException.ThrowIfNull(work);
        ArgumentNullException.ThrowIfNull(rates);
        var skills = work.Where(w => w.Minutes > 0)
            .GroupBy(w => w.Skill, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g =>
                (Skill: g.Key, Minutes: g.Sum(w => w.Minutes), Rate: rates.MinorPerHour.GetValueOrDefault(g.Key))
            )
            .ToList();
        var minor = (long)
            decimal.Round(skills.Sum(s => (decimal)s.Minutes * s.Rate / 60), MidpointRounding.AwayFromZero);
        return new LabourAtCost(
            minor,
            skills.Sum(s => s.Minutes),
            [.. skills.Where(s => s.Rate <= 0).Select(s => s.Skill)],
            new Explanation(
                Rule,
                [.. skills.Select(s => new ExplanationInput(s.Skill, Words(s.Minutes, s.Rate, rates.Currency)))],
                $"{rates.Source}; the rule is common practice, no source",
                Text(minor, rates.Currency),
                []
            )
        );
    }

    private static string Words(long minutes, long rate, Currency currency) =>
        string.Create(CultureInfo.InvariantCulture, $"{minutes} min")
        + (rate > 0 ? $" × {Text(rate, currency)} an hour" : ", no rate");

    private static string Text(long minor, Currency currency) =>
        new Money(minor, currency).ToString(CultureInfo.InvariantCulture);
}
