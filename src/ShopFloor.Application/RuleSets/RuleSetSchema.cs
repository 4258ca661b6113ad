namespace ShopFloor.Application.RuleSets;

/// <summary>The published format of rule-set files, as a JSON Schema (2020-12).</summary>
public static class RuleSetSchema
{
    public const string FileName = "rule-set.schema.json";

    private static readonly Lazy<string> Read = new(() => ShippedData.Text($"schemas/{FileName}"));

    public static string Text => Read.Value;
}
