using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>What becomes of one operation when its job goes over to another edition of its route.</summary>
public enum RouteStepKind
{
    /// <summary>Begun or over, or put on this job only: it stays as it is.</summary>
    Stays,

    /// <summary>Not begun: it is described anew.</summary>
    Changes,

    /// <summary>It is new.</summary>
    Comes,

    /// <summary>Not begun and not on the new edition: it is set to not needed.</summary>
    Goes,
}

/// <summary>One operation's part of the move.</summary>
public sealed record RouteStep(string Code, string Title, RouteStepKind Kind, IReadOnlyList<string> Sentences);

/// <summary>A running job's move to another edition, looked at before it is made.</summary>
/// <param name="Steps">Operations to which something happens, or that stay although the new edition has them otherwise; in route order.</param>
/// <param name="Refusals">Why it is not possible; empty where it is.</param>
/// <param name="CanFinish">What the build-sequence check says of the job after it; null where that was not proven.</param>
public sealed record RouteMove(
    int FromEdition,
    int ToEdition,
    IReadOnlyList<RouteStep> Steps,
    IReadOnlyList<Reason> Refusals,
    bool? CanFinish
);
