using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Inspection;

/// <summary>A failed line and what became of it.</summary>
/// <param name="Outcome">In a sentence: what was decided and done.</param>
public sealed record NonconformanceView(
    int Number,
    string Line,
    string Operation,
    string What,
    int Reading,
    string Description,
    IReadOnlyList<PhotoId> PhotoIds,
    DateTimeOffset OpenedAt,
    string? OpenedByName,
    FaultCause? Cause,
    Disposition? Disposition,
    string? Reason,
    string? DecidedByName,
    DateTimeOffset? DecidedAt,
    IReadOnlyList<string> Reworks,
    bool IsOpen,
    DateTimeOffset? ClosedAt,
    string? ClosedByName,
    int? ClosedByReading,
    bool WasMistyped,
    string Outcome
);

internal static class NonconformanceViews
{
    public static NonconformanceView Of(Nonconformance fault, IReadOnlyDictionary<Guid, string> names) =>
        new(
            fault.Number,
            fault.LineCode,
            fault.OperationCode,
            fault.What,
            fault.Reading,
            fault.Description,
            fault.PhotoIds,
            fault.OpenedAt,
            InspectionView.Name(fault.OpenedBy, names),
            fault.Cause,
            fault.Disposition,
            fault.Reason,
            InspectionView.Name(fault.DecidedBy, names),
            fault.DecidedAt,
            fault.Reworks,
            fault.IsOpen,
            fault.ClosedAt,
            InspectionView.Name(fault.ClosedBy, names),
            fault.ClosedByReading,
            fault.WasMistyped,
            NonconformanceWords.Done(fault, null)
        );

    /// <param name="what">opened, described, decided or closed.</param>
    public static EventDraft EventOf(Nonconformance fault, string what) =>
        new(
            "nonconformance." + what,
            "inspection",
            fault.JobId.Value,
            fault.JobId,
            After: new
            {
                number = fault.Number,
                line = fault.LineCode,
                reading = fault.Reading,
                cause = fault.Cause,
                disposition = fault.Disposition,
                reworks = fault.Reworks,
                photos = fault.PhotoIds,
                isOpen = fault.IsOpen,
                closedByReading = fault.ClosedByReading,
            }
        );
}
