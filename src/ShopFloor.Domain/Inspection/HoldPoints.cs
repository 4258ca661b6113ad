using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What a gate needs to know of an inspection line.</summary>
public interface IHoldLine
{
    string OperationCode { get; }

    string What { get; }

    InspectionPoint Point { get; }

    LineState State { get; }
}

/// <summary>Which hold points still stop the route.</summary>
public static class HoldPoints
{
    /// <summary>Why work behind the hold lines of an operation must wait; empty when nothing stops it (all passed, or there are none).</summary>
    public static IReadOnlyList<Reason> Outstanding(IEnumerable<IHoldLine> lines, string operationCode) =>
        [
            .. lines
                .Where(l => l.Point == InspectionPoint.Hold && l.OperationCode == operationCode && !l.State.IsSettled())
                .Select(l => new Reason(
                    "holdPoint",
                    l.State == LineState.Failed
                            ? $"Hold point at {operationCode}, failed: {l.What}. Mend it and have it checked again."
                        : l.State == LineState.ReadAgain
                            ? $"Hold point at {operationCode}, close to its limit: {l.What}. Read it once more."
                        : $"Hold point at {operationCode}, not checked yet: {l.What}.",
                    operationCode
                )),
        ];

    /// <summary>Codes of the operations that have hold lines, all of them passed.</summary>
    public static IReadOnlySet<string> Passed(IEnumerable<IHoldLine> lines) =>
        lines
            .Where(l => l.Point == InspectionPoint.Hold)
            .GroupBy(l => l.OperationCode, StringComparer.Ordinal)
            .Where(g => g.All(l => l.State.IsSettled()))
            .Select(g => g.Key)
            .ToHashSet(StringComparer.Ordinal);
}
