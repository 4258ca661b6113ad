using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.TubeCheck;

namespace ShopFloor.Application.RuleSets;

/// <summary>What a tube check says, with the rule set it was held against.</summary>
public sealed record TubeCheckView(
    string RuleSet,
    int RuleSetVersion,
    string Citation,
    TubeVerdict Verdict,
    IReadOnlyList<TubeFinding> Findings,
    IReadOnlyList<TubeSection> Sections,
    string SectionsAre,
    string Caution,
    string Advice
);

/// <summary>Holds a tube against the figures of one rule set; nothing is stored.</summary>
public sealed class CheckTube(RuleSetLibrary library) : IUseCase
{
    /// <summary>Said wherever section figures stand.</summary>
    public const string SectionsAre =
        "For information only: section modulus and mass never prove that a size may stand for a printed one.";

    public Outcome<TubeCheckView> Run(string ruleSetCode, TubeUnderCheck tube, Actor actor)
    {
        ArgumentNullException.ThrowIfNull(actor);
        if (!actor.May(Permission.SeeFloor))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        return library.Find(ruleSetCode) is { } rules
            ? TubeComparison
                .Compare(tube, rules)
                .Then<TubeCheckView>(r => new TubeCheckView(
                    rules.Code,
                    rules.Version,
                    rules.Citation,
                    r.Verdict,
                    r.Findings,
                    r.Sections,
                    SectionsAre,
                    rules.Document.Caution,
                    RuleSet.Advice
                ))
            : Failure.Missing("rule set");
    }
}
