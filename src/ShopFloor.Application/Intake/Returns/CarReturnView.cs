using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Returns;

/// <summary>A return as shown.</summary>
public sealed record CarReturnView(
    CarReturnId Id,
    long Version,
    JobId JobId,
    DateTimeOffset ReturnedAt,
    int OdometerKm,
    IReadOnlyList<WarningLight> WarningLights,
    int FuelPercent,
    int KeysReturned,
    IReadOnlyList<WalkRoundLook> Looks,
    IReadOnlyList<PartBack> PartsBack,
    IReadOnlyList<RemovedPart> RemovedParts,
    string LeftOpen,
    string? Note,
    string NoticeHash,
    SignatureKind SignatureKind,
    string SignedBy,
    IReadOnlyList<IReadOnlyList<int>> Strokes,
    long BalanceMinor,
    string Currency
)
{
    public static CarReturnView Of(CarReturn r) =>
        new(
            r.Id,
            r.Version,
            r.JobId,
            r.ReturnedAt,
            r.OdometerKm,
            r.WarningLights,
            r.FuelPercent,
            r.KeysReturned,
            r.Looks,
            r.PartsBack,
            r.RemovedParts,
            r.LeftOpen,
            r.Note,
            r.NoticeHash,
            r.Signature.Kind,
            r.Signature.SignedBy,
            r.Signature.Strokes,
            r.BalanceMinor,
            r.BalanceCurrency
        );
}
