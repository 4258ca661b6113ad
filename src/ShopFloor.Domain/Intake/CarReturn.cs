using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>The car of a cancelled job goes back as it stands: compared with the drop-off, its parts counted, what was left open put into words and signed for.</summary>
public sealed class CarReturn : IVersioned
{
    public const int MostRemovedParts = 60;

    private CarReturn() { }

    public CarReturnId Id { get; private set; }

    public JobId JobId { get; private set; }

    public DateTimeOffset ReturnedAt { get; private set; }

    public int OdometerKm { get; private set; }

    public IReadOnlyList<WarningLight> WarningLights { get; private set; } = [];

    public int FuelPercent { get; private set; }

    public int KeysReturned { get; private set; }

    public IReadOnlyList<WalkRoundLook> Looks { get; private set; } = [];

    public IReadOnlyList<PartBack> PartsBack { get; private set; } = [];

    public IReadOnlyList<RemovedPart> RemovedParts { get; private set; } = [];

    /// <summary>What was cut, drilled, welded or left open.</summary>
    public string LeftOpen { get; private set; } = "";

    public string? Note { get; private set; }

    /// <summary>Hash of the <see cref="ReturnNotice"/> that was shown.</summary>
    public string NoticeHash { get; private set; } = "";

    /// <summary>Of whoever collected the car.</summary>
    public Signature Signature { get; private set; } = null!;

    /// <summary>What the customer still owed when signing, minor units; negative where the shop owes.</summary>
    public long BalanceMinor { get; private set; }

    /// <summary>ISO 4217 code of the balance.</summary>
    public string BalanceCurrency { get; private set; } = "";

    public long Version { get; private set; }

    /// <summary>Checks the record against the drop-off.</summary>
    /// <param name="id">New id.</param>
    /// <param name="jobId">The cancelled job.</param>
    /// <param name="dropOff">The car as it came; null where none was recorded.</param>
    /// <param name="intakePhotos">Walk-round photos of the drop-off that still exist; each must have been looked at.</param>
    /// <param name="customerParts">Parts that the customer brought; each must be answered for.</param>
    /// <param name="details">As recorded.</param>
    /// <param name="balance">What the customer owes.</param>
    /// <param name="at">Now.</param>
    public static Outcome<CarReturn> Record(
        CarReturnId id,
        JobId jobId,
        DropOff? dropOff,
        IReadOnlyCollection<PhotoId> intakePhotos,
        IReadOnlyCollection<CustomerPartId> customerParts,
        CarReturnDetails details,
        Money balance,
        DateTimeOffset at
    )
    {
        var errors = new FieldErrors();
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.Note, errors);
        GoingCar.CheckOdometer(details.OdometerKm, dropOff, note, errors);
        GoingCar.CheckLights(details.WarningLights, dropOff, note, errors);
        GoingCar.CheckKeys(details.KeysReturned, dropOff, note, errors);
        errors.AddIf(details.FuelPercent is null, "fuelPercent", "Read the fuel level.");
        errors.AddIf(
            details.FuelPercent is < 0 or > 100,
            "fuelPercent",
            $"The fuel level {details.FuelPercent} % is outside 0 to 100."
        );
        var looks = GoingCar.CheckLooks(details.Looks ?? [], intakePhotos, errors);
        var parts = CheckParts(details.PartsBack ?? [], customerParts, errors);
        var removed = CheckRemoved(details.RemovedParts, errors);
        var leftOpen = TextRules.Required(
            details.LeftOpen,
            "leftOpen",
            "What was cut and what was left open",
            TextRules.Note,
            errors
        );
        var signature = Signature.Take(details.Signature, "signature", at);
        errors.Take(signature);
        return errors.Any
            ? errors.ToFailure()
            : new CarReturn
            {
                Id = id,
                JobId = jobId,
                ReturnedAt = at,
                OdometerKm = details.OdometerKm!.Value,
                WarningLights = [.. details.WarningLights!.Distinct().Order()],
                FuelPercent = details.FuelPercent!.Value,
                KeysReturned = details.KeysReturned!.Value,
                Looks = looks,
                PartsBack = parts,
                RemovedParts = removed,
                LeftOpen = leftOpen,
                Note = note,
                NoticeHash = ReturnNotice.Current.Hash,
                Signature = signature.Value,
                BalanceMinor = balance.Minor,
                BalanceCurrency = balance.Currency.Code,
            };
    }

    /// <summary>Forgets what leads to a person: the signature and the free notes. What was left open on the car stays.</summary>
    public void ErasePersonalData()
    {
        Signature = Signature.Erased();
        Note = null;
        PartsBack = [.. PartsBack.Select(p => p with { Note = null })];
    }

    private static List<PartBack> CheckParts(
        IReadOnlyList<PartBack> parts,
        IReadOnlyCollection<CustomerPartId> brought,
        FieldErrors errors
    )
    {
        if (parts.Count > CustomerPart.MostOfJob)
        {
            errors.Add("partsBack", $"{parts.Count} entries are too many; a job has at most {CustomerPart.MostOfJob}.");
            return [];
        }

        List<PartBack> clean = [];
        for (var i = 0; i < parts.Count; i++)
        {
            var (path, part) = ($"partsBack[{i}]", parts[i]);
            var note = TextRules.Optional(part.Note, $"{path}.note", "The note", TextRules.ShortText, errors);
            errors.AddIf(!brought.Contains(part.PartId), $"{path}.partId", "The customer brought no such part.");
            errors.AddIf(clean.Exists(p => p.PartId == part.PartId), $"{path}.partId", "This part is listed twice.");
            errors.AddIf(
                !part.IsBack && note is null,
                $"{path}.note",
                "Say where the part is and when the customer gets it."
            );
            clean.Add(part with { Note = note });
        }

        var missed = brought.Except(parts.Select(p => p.PartId)).Count();
        errors.AddIf(
            missed > 0,
            "partsBack",
            $"{missed} of {brought.Count} parts that the customer brought are not answered for. Give each back, or say where it is."
        );
        return clean;
    }

    private static List<RemovedPart> CheckRemoved(IReadOnlyList<RemovedPart>? parts, FieldErrors errors)
    {
        if (parts is null)
        {
            errors.Add("removedParts", "List what was taken out of the car, or say that nothing was.");
            return [];
        }

        if (parts.Count > MostRemovedParts)
        {
            errors.Add(
                "removedParts",
                $"{parts.Count} lines are too many; at most {MostRemovedParts} are kept. Put several things on one line."
            );
            return [];
        }

        List<RemovedPart> clean = [];
        for (var i = 0; i < parts.Count; i++)
        {
            var path = $"removedParts[{i}]";
            var what = TextRules.Required(parts[i].What, $"{path}.what", "The part", TextRules.ShortText, errors);
            errors.AddIf(parts[i].Place is null, $"{path}.place", "Say whether it is fitted again or in a box.");
            clean.Add(new RemovedPart(what, parts[i].Place));
        }

        return clean;
    }
}
