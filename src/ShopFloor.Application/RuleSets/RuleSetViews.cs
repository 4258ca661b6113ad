using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>A rule set in the list.</summary>
/// <param name="IsOffered">New quotes and jobs may take it.</param>
/// <param name="IsOwn">The shop's own: a copy or a file brought in, which the owner changes.</param>
public sealed record RuleSetRow(
    string Code,
    int Version,
    string Publisher,
    string Title,
    string Edition,
    DateOnly DateRead,
    string Caution,
    string Advice,
    IReadOnlyList<RuleFigure> Figures,
    bool IsOffered,
    bool IsOwn
);

/// <summary>One stored version.</summary>
/// <param name="IsIntact">False where what is stored is not what was written.</param>
public sealed record RuleSetVersionView(
    int Version,
    RuleSetOrigin Origin,
    string Sha256,
    DateTimeOffset StoredAt,
    string? StoredByName,
    bool IsIntact
);

/// <summary>A rule set as screens and API show it, in one version; each figure with its clause and how surely it is known.</summary>
/// <param name="CopyOf">Code of the original; null for an original.</param>
/// <param name="NewestVersion">The version that new jobs take.</param>
/// <param name="Versions">Newest first.</param>
public sealed record RuleSetView(
    string Code,
    int Version,
    string Publisher,
    string Title,
    string Edition,
    DateOnly DateRead,
    string Caution,
    string Advice,
    IReadOnlyList<RuleFigure> Figures,
    bool IsOffered,
    bool IsOwn,
    string? CopyOf,
    int? CopyOfVersion,
    int NewestVersion,
    string Sha256,
    IReadOnlyList<RuleSetVersionView> Versions
);

/// <summary>What differs between two versions, or between a copy and its original.</summary>
public sealed record RuleSetComparison(
    RuleSetName From,
    RuleSetName To,
    IReadOnlyList<ValueChange> About,
    IReadOnlyList<FigureChange> Figures,
    IReadOnlyList<string> Sentences,
    string Advice
);

/// <summary>Names a version for people.</summary>
public sealed record RuleSetName(string Code, int Version, string Citation);

/// <summary>A rule set that a job keeps.</summary>
/// <param name="Publisher">Null, as what follows, where this version is not stored any more.</param>
/// <param name="NewestVersion">Null where there is none after the job's own.</param>
/// <param name="Changes">What the newest version says otherwise; empty where nothing is newer.</param>
public sealed record JobRuleSetView(
    string Code,
    int Version,
    string Citation,
    string? Publisher,
    string? Title,
    string? Edition,
    DateOnly? DateRead,
    int? NewestVersion,
    IReadOnlyList<string> Changes,
    bool HasTubeSizes
);
