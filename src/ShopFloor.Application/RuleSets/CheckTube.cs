using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.TubeCheck;

namespace ShopFloor.Application.RuleSets;

/// <summary>What a tube check says, with the rule set it was held against.</summary>
/// <param name="NewestVersion">Another than <paramref name="RuleSetVersion"/> where the figures are those of an older version.</param>
public sealed record TubeCheckView(
    string RuleSet,
    int RuleSetVersion,
    string Publisher,
    string Title,
    string Edition,
    int NewestVersion,
    string Citation,
    TubeVerdict Verdict,
    IReadOnlyList<TubeFinding> Findings,
    IReadOnlyList<TubeSection> Sections,
    string SectionsAre,
    string Caution,
    string Advice
);

/// <summary>Holds a tube against the figures of one rule set; nothing is stored.</summary>
public sealed class CheckTube(QueryRunner queries, RuleSetLibrary library) : IUseCase
{
    /// <summary>Said wherever section figures stand.</summary>
    public const string SectionsAre =
        "For information only: section modulus and mass never prove that a size may stand for a printed one.";

    /// <param name="ruleSetCode">The set.</param>
    /// <param name="version">The version that a job was built to; null for the newest.</param>
    /// <param name="tube">What is held against it.</param>
    /// <param name="actor">Who asks.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<TubeCheckView>> RunAsync(
        string ruleSetCode,
        int? version,
        TubeUnderCheck tube,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<TubeCheckView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                var rules = version is { } wanted ? library.Find(ruleSetCode, wanted) : library.Find(ruleSetCode);
                return rules is null
                    ? Failure.Missing(version is null ? "rule set" : "version of this rule set")
                    : TubeComparison.Compare(tube, rules).Then<TubeCheckView>(r => View(rules, r));
            },
            ct
        );

    private TubeCheckView View(RuleSet rules, TubeCheckResult result) =>
        new(
            rules.Code,
            rules.Version,
            rules.Document.Publisher,
            rules.Title,
            rules.Document.Edition,
            library.Find(rules.Code)?.Version ?? rules.Version,
            rules.Citation,
            result.Verdict,
            result.Findings,
            result.Sections,
            SectionsAre,
            rules.Document.Caution,
            RuleSet.Advice
        );
}
