using Microsoft.AspNetCore.Components;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Two versions of a rule set, or a copy and its original, beside each other.</summary>
public partial class RuleSetComparePage(ReadRuleSets read)
{
    private RuleSetComparison? view;
    private (string, string?, int?, int?) seen;

    [Parameter]
    public string Code { get; set; } = "";

    /// <summary>The other set; without it two versions of the same one.</summary>
    [SupplyParameterFromQuery]
    public string? With { get; set; }

    [SupplyParameterFromQuery]
    public int? From { get; set; }

    [SupplyParameterFromQuery]
    public int? To { get; set; }

    protected override async Task OnParametersSetAsync()
    {
        await base.OnParametersSetAsync();
        if (!IsLoading && seen != (Code, With, From, To))
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        seen = (Code, With, From, To);
        var outcome = await read.CompareAsync(Code, With, From, To, Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }
}
