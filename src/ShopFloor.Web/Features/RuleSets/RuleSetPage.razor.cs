using Microsoft.AspNetCore.Components;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>One rule set: each figure with its clause and how surely it is known.</summary>
public partial class RuleSetPage(GetRuleSet get)
{
    private RuleSetView? set;

    [Parameter]
    public string Code { get; set; } = "";

    protected override Task<Failure?> LoadAsync()
    {
        var outcome = get.Run(Code, Actor);
        set = outcome.IsSuccess ? outcome.Value : null;
        return Task.FromResult(outcome.Failure);
    }

    private static string GlyphOf(FigureMark mark) =>
        mark switch
        {
            FigureMark.Read => "●",
            FigureMark.Quoted => "◐",
            FigureMark.FromMemory => "○",
            _ => "◇",
        };
}
