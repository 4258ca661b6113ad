using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>The rule sets a car can be built to.</summary>
public partial class RuleSetsPage(ListRuleSets list)
{
    private IReadOnlyList<RuleSetView> sets = [];

    protected override Task<Failure?> LoadAsync()
    {
        var outcome = list.Run(Actor);
        sets = outcome.IsSuccess ? outcome.Value : [];
        return Task.FromResult(outcome.Failure);
    }
}
