using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>A hand-over as shown.</summary>
public sealed record HandOverView(
    HandOverId Id,
    long Version,
    JobId JobId,
    DateTimeOffset HandedOverAt,
    int OdometerKm,
    IReadOnlyList<WarningLight> WarningLights,
    int KeysReturned,
    IReadOnlyList<WalkRoundLook> Looks,
    string? Note,
    SignatureKind SignatureKind,
    string SignedBy,
    IReadOnlyList<IReadOnlyList<int>> Strokes,
    long BalanceMinor,
    string Currency
)
{
    public static HandOverView Of(HandOver h) =>
        new(
            h.Id,
            h.Version,
            h.JobId,
            h.HandedOverAt,
            h.OdometerKm,
            h.WarningLights,
            h.KeysReturned,
            h.Looks,
            h.Note,
            h.Signature.Kind,
            h.Signature.SignedBy,
            h.Signature.Strokes,
            h.BalanceMinor,
            h.BalanceCurrency
        );
}
