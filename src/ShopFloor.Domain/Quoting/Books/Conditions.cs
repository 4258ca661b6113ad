namespace ShopFloor.Domain.Quoting;

/// <summary>Something asked about the car's condition.</summary>
/// <param name="Default">Code of the answer that is assumed until somebody looks.</param>
public sealed record Question(string Code, string Title, string Default, IReadOnlyList<Answer> Answers);

/// <summary>One answer, what it multiplies, what it asks people to be careful about and what it brings onto the route.</summary>
public sealed record Answer(
    string Code,
    string Title,
    IReadOnlyList<ConditionFactor> Factors,
    IReadOnlyList<string> Precautions
)
{
    /// <summary>The fuel tank stays in the car while there is heat. Such an answer must bring an assessment, a gate and a watcher: a hazard is never a price factor alone.</summary>
    public bool LeavesTankFitted { get; init; }

    /// <summary>Operations that must be on the route because of this answer; a route without them cannot be priced.</summary>
    public IReadOnlyList<string> Operations { get; init; } = [];

    /// <summary>What must be waited for because of this answer, a sentence each.</summary>
    public IReadOnlyList<string> Gates { get; init; } = [];

    /// <summary>Work that this answer adds to operations of the route, such as a watcher's hours.</summary>
    public IReadOnlyList<AddedWork> Work { get; init; } = [];
}

/// <summary>Multiplies one labour standard's minutes.</summary>
/// <param name="Multiplier">0.1 to 10.</param>
public sealed record ConditionFactor(string StandardCode, decimal Multiplier);
