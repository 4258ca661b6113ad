using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>One look of the closing walk-round.</summary>
/// <param name="IntakePhotoId">The photo from the drop-off that was compared; null for something not photographed then.</param>
/// <param name="NewPhotoId">The photo taken now, if one was.</param>
/// <param name="IsSame">The place looks as it did at drop-off.</param>
/// <param name="Note">What is different; needed where it is not the same.</param>
public sealed record WalkRoundLook(PhotoId? IntakePhotoId, PhotoId? NewPhotoId, bool IsSame, string? Note);

/// <summary>The hand-over as recorded at the car; <see cref="HandOver"/> checks it.</summary>
/// <param name="OdometerKm">Whole kilometres; needed.</param>
/// <param name="WarningLights">Lamps that are lit; empty means looked at, none lit; needed.</param>
/// <param name="KeysReturned">How many keys were given back; needed.</param>
/// <param name="Looks">The walk-round, one entry a place.</param>
/// <param name="Note">Anything else; needed where a lamp is lit that was not, or the odometer went back.</param>
/// <param name="Signature">The customer's.</param>
public sealed record HandOverDetails(
    int? OdometerKm,
    IReadOnlyList<WarningLight>? WarningLights,
    int? KeysReturned,
    IReadOnlyList<WalkRoundLook>? Looks,
    string? Note,
    SignatureDetails? Signature
);

/// <summary>The car goes back to its owner: compared with the drop-off, signed for, with the balance that was shown.</summary>
public sealed class HandOver : IVersioned
{
    private HandOver() { }

    public HandOverId Id { get; private set; }

    public JobId JobId { get; private set; }

    public DateTimeOffset HandedOverAt { get; private set; }

    public int OdometerKm { get; private set; }

    public IReadOnlyList<WarningLight> WarningLights { get; private set; } = [];

    public int KeysReturned { get; private set; }

    public IReadOnlyList<WalkRoundLook> Looks { get; private set; } = [];

    public string? Note { get; private set; }

    public Signature Signature { get; private set; } = null!;

    /// <summary>What the customer still owed when signing, minor units; negative where the shop owes.</summary>
    public long BalanceMinor { get; private set; }

    /// <summary>ISO 4217 code of the balance.</summary>
    public string BalanceCurrency { get; private set; } = "";

    public long Version { get; private set; }

    /// <summary>Checks the record against the drop-off.</summary>
    /// <param name="id">New id.</param>
    /// <param name="jobId">The job.</param>
    /// <param name="dropOff">The car as it came; null for a car that was entered half built, which is compared with nothing.</param>
    /// <param name="intakePhotos">Walk-round photos of the drop-off that still exist; each must have been looked at.</param>
    /// <param name="details">As recorded.</param>
    /// <param name="balance">What the customer owes.</param>
    /// <param name="at">Now.</param>
    public static Outcome<HandOver> Record(
        HandOverId id,
        JobId jobId,
        DropOff? dropOff,
        IReadOnlyCollection<PhotoId> intakePhotos,
        HandOverDetails details,
        Money balance,
        DateTimeOffset at
    )
    {
        var errors = new FieldErrors();
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.Note, errors);
        GoingCar.CheckOdometer(details.OdometerKm, dropOff, note, errors);
        GoingCar.CheckLights(details.WarningLights, dropOff, note, errors);
        GoingCar.CheckKeys(details.KeysReturned, dropOff, note, errors);
        var looks = GoingCar.CheckLooks(details.Looks ?? [], intakePhotos, errors);
        var signature = Signature.Take(details.Signature, "signature", at);
        errors.Take(signature);
        return errors.Any
            ? errors.ToFailure()
            : new HandOver
            {
                Id = id,
                JobId = jobId,
                HandedOverAt = at,
                OdometerKm = details.OdometerKm!.Value,
                WarningLights = [.. details.WarningLights!.Distinct().Order()],
                KeysReturned = details.KeysReturned!.Value,
                Looks = looks,
                Note = note,
                Signature = signature.Value,
                BalanceMinor = balance.Minor,
                BalanceCurrency = balance.Currency.Code,
            };
    }

    /// <summary>Forgets what leads to a person: the signature and the free notes.</summary>
    public void ErasePersonalData()
    {
        Signature = Signature.Erased();
        Note = null;
    }
}
