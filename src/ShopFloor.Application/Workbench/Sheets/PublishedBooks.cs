using ShopFloor.Application.RuleSets;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>The shipped rule sets, against which the workbench holds what was measured.</summary>
internal static class PublishedBooks
{
    public static RuleSetLibrary All { get; } = new();
}
