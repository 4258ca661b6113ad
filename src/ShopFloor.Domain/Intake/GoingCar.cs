using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>What is looked at on every car that leaves, finished or not, and how it is compared with the drop-off.</summary>
internal static class GoingCar
{
    public const int MostLooks = 200;

    public static void CheckOdometer(int? km, DropOff? dropOff, string? note, FieldErrors errors)
    {
        Odometer.Check(km, "odometerKm", errors);
        errors.AddIf(km is null, "odometerKm", "Read the odometer.");
        errors.AddIf(
            km < dropOff?.OdometerKm && note is null,
            "odometerKm",
            $"The odometer read {dropOff?.OdometerKm} km at drop-off and {km} km now. Read it again, or explain it in the note."
        );
    }

    public static void CheckLights(
        IReadOnlyList<WarningLight>? lights,
        DropOff? dropOff,
        string? note,
        FieldErrors errors
    )
    {
        errors.AddIf(
            lights is null,
            "warningLights",
            "Look at the warning lights with the ignition on; say which are lit or that none is."
        );
        var fresh = (lights ?? []).Except(dropOff?.WarningLights ?? []).ToList();
        errors.AddIf(
            dropOff is not null && fresh.Count > 0 && note is null,
            "note",
            $"Lit now but not at drop-off: {string.Join(", ", fresh.Select(l => l.Title()))}. Find out why, and say in the note what was found."
        );
    }

    public static void CheckKeys(int? keys, DropOff? dropOff, string? note, FieldErrors errors)
    {
        errors.AddIf(keys is null, "keysReturned", "Count the keys that go back.");
        errors.AddIf(
            keys is < 0 or > DropOff.MostKeys,
            "keysReturned",
            $"{keys} keys are outside 0 to {DropOff.MostKeys}."
        );
        errors.AddIf(
            dropOff?.Keys is { } came && keys is not null && keys != came && note is null,
            "keysReturned",
            $"Keys that came in: {dropOff?.Keys}; that go back: {keys}. Count again, or explain it in the note."
        );
    }

    public static List<WalkRoundLook> CheckLooks(
        IReadOnlyList<WalkRoundLook> looks,
        IReadOnlyCollection<PhotoId> intakePhotos,
        FieldErrors errors
    )
    {
        if (looks.Count > MostLooks)
        {
            errors.Add("looks", $"{looks.Count} entries are too many; at most {MostLooks} are kept.");
            return [];
        }

        List<WalkRoundLook> clean = [];
        for (var i = 0; i < looks.Count; i++)
        {
            var note = TextRules.Optional(looks[i].Note, $"looks[{i}].note", "The note", TextRules.ShortText, errors);
            errors.AddIf(
                !looks[i].IsSame && note is null,
                $"looks[{i}].note",
                "Say what is different from the drop-off."
            );
            errors.AddIf(
                looks[i].IntakePhotoId is { } photo && !intakePhotos.Contains(photo),
                $"looks[{i}].intakePhotoId",
                "This is no walk-round photo of this job's drop-off."
            );
            clean.Add(looks[i] with { Note = note });
        }

        var missed = intakePhotos.Except(looks.Select(l => l.IntakePhotoId).OfType<PhotoId>()).Count();
        errors.AddIf(
            missed > 0,
            "looks",
            $"{missed} of {intakePhotos.Count} photos from the drop-off have not been compared yet. Walk round the car with the customer and tick each."
        );
        return clean;
    }
}
