using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.HandOvers;

/// <summary>The hand-over as sent. Fields as in <see cref="HandOverDetails"/>.</summary>
public sealed record HandOverInput(
    int? OdometerKm = null,
    IReadOnlyList<WarningLight>? WarningLights = null,
    int? KeysReturned = null,
    IReadOnlyList<LookInput>? Looks = null,
    string? Note = null,
    SignatureDetails? Signature = null
)
{
    internal HandOverDetails Details =>
        new(OdometerKm, WarningLights, KeysReturned, LookInput.DetailsOf(Looks), Note, Signature);
}

/// <summary>One look of the closing walk-round. Fields as in <see cref="WalkRoundLook"/>.</summary>
public sealed record LookInput(
    PhotoId? IntakePhotoId = null,
    PhotoId? NewPhotoId = null,
    bool? IsSame = null,
    string? Note = null
)
{
    internal static IReadOnlyList<WalkRoundLook>? DetailsOf(IReadOnlyList<LookInput>? looks) =>
        looks is null
            ? null
            : [.. looks.Select(l => new WalkRoundLook(l.IntakePhotoId, l.NewPhotoId, l.IsSame ?? false, l.Note))];
}
