using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>The rule sets a job can be built to: those shipped with the program, read once at start.</summary>
public sealed class RuleSetLibrary
{
    private readonly Dictionary<string, RuleSet> byCode;

    public RuleSetLibrary()
    {
        All = ShippedData.ReadAll("rule-sets", RuleSetReader.Read);
        byCode = All.ToDictionary(r => r.Code, StringComparer.Ordinal);
    }

    /// <summary>By code.</summary>
    public IReadOnlyList<RuleSet> All { get; }

    public RuleSet? Find(string code) => byCode.GetValueOrDefault(code);
}
