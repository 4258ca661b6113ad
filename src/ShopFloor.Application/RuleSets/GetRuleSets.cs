using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>A rule set as screens and API show it; each figure with its clause and how surely it is known.</summary>
public sealed record RuleSetView(
    string Code,
    int Version,
    string Publisher,
    string Title,
    string Edition,
    DateOnly DateRead,
    string Caution,
    string Advice,
    IReadOnlyList<RuleFigure> Figures
)
{
    public static RuleSetView Of(RuleSet set) =>
        new(
            set.Code,
            set.Version,
            set.Document.Publisher,
            set.Title,
            set.Document.Edition,
            set.Document.DateRead,
            set.Document.Caution,
            RuleSet.Advice,
            set.Figures
        );
}

/// <summary>Lists the rule sets.</summary>
public sealed class ListRuleSets(RuleSetLibrary library) : IUseCase
{
    public Outcome<IReadOnlyList<RuleSetView>> Run(Actor actor)
    {
        if (!actor.May(Permission.SeeFloor))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        return Outcome<IReadOnlyList<RuleSetView>>.Success([.. library.All.Select(RuleSetView.Of)]);
    }
}

/// <summary>Shows one rule set.</summary>
public sealed class GetRuleSet(RuleSetLibrary library) : IUseCase
{
    public Outcome<RuleSetView> Run(string code, Actor actor)
    {
        if (!actor.May(Permission.SeeFloor))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        return library.Find(code) is { } set ? RuleSetView.Of(set) : Failure.Missing("rule set");
    }
}
