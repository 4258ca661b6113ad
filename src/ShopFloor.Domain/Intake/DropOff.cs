using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>The intake record of a job: the car as it came in, what was agreed about it, and the customer's authorisation. It may be filled in piece by piece; it is signed when nothing is missing.</summary>
public sealed class DropOff : IVersioned
{
    public const int MostKeys = 20;
    public const int MostLines = 40;
    public const int MostAnswers = 60;

    private DropOff() { }

    public DropOffId Id { get; private set; }

    public JobId JobId { get; private set; }

    public DateTimeOffset BroughtInAt { get; private set; }

    public int? OdometerKm { get; private set; }

    /// <summary>Null: not looked at yet. Empty: none lit.</summary>
    public IReadOnlyList<WarningLight>? WarningLights { get; private set; }

    public string? WarningLightsNote { get; private set; }

    public int? FuelPercent { get; private set; }

    public int? Keys { get; private set; }

    public string? KeysNote { get; private set; }

    /// <summary>Question code to answer code.</summary>
    public IReadOnlyDictionary<string, string> ConditionFound { get; private set; } = new Dictionary<string, string>();

    public IReadOnlyList<string> StaysFitted { get; private set; } = [];

    public IReadOnlyList<string> InTheCar { get; private set; } = [];

    public BatteryState? Battery { get; private set; }

    public PhotoConsent PhotoConsent { get; private set; }

    public string? Note { get; private set; }

    /// <summary>Null until the customer has signed.</summary>
    public Authorisation? Authorisation { get; private set; }

    public long Version { get; private set; }

    /// <summary>What must still be asked before the customer can sign; codes are the names of the fields.</summary>
    public IReadOnlyList<Reason> Missing
    {
        get
        {
            List<Reason> missing = [];
            AddIf(OdometerKm is null, "odometerKm", "Read the odometer.");
            AddIf(WarningLights is null, "warningLights", "Look at the warning lights with the ignition on.");
            AddIf(FuelPercent is null, "fuelPercent", "Read the fuel level.");
            AddIf(Keys is null, "keys", "Count the keys.");
            AddIf(Battery is null, "battery", "Look at the battery.");
            AddIf(ConditionFound.Count == 0, "conditionFound", "Answer the condition questions at the car.");
            AddIf(PhotoConsent == PhotoConsent.NotAsked, "photoConsent", "Ask whether photos may be published.");
            return missing;

            void AddIf(bool isMissing, string code, string text)
            {
                if (isMissing)
                {
                    missing.Add(new Reason(code, text));
                }
            }
        }
    }

    public static Outcome<DropOff> Begin(DropOffId id, JobId jobId, DropOffDetails details, DateTimeOffset at)
    {
        var dropOff = new DropOff
        {
            Id = id,
            JobId = jobId,
            BroughtInAt = at,
        };
        var applied = dropOff.Apply(details);
        return applied.IsSuccess ? dropOff : applied.Failure;
    }

    /// <summary>Replaces what was recorded. Refused once the customer has signed for it.</summary>
    public Outcome<Done> Change(DropOffDetails details) =>
        Authorisation is { } signed
            ? Failure.Because(
                "authorised",
                $"The customer signed for this record on {signed.Signature.SignedAt:yyyy-MM-dd}. Withdraw the authorisation first, then change it and have it signed again."
            )
            : Apply(details);

    /// <summary>The customer signs. Refused while something is missing or when already signed.</summary>
    public Outcome<Done> Authorise(
        SignatureDetails? signature,
        AuthorisationNotice shown,
        ShownDifference? difference,
        DateTimeOffset at
    )
    {
        if (Authorisation is not null)
        {
            return Failure.Because("authorised", "The customer has already authorised the work.");
        }

        if (Missing is { Count: > 0 } missing)
        {
            return new Failure.Refused(missing);
        }

        var taken = Signature.Take(signature, "signature", at);
        if (!taken.TryGet(out var value, out var failure))
        {
            return failure;
        }

        Authorisation = new Authorisation(value, shown.Hash, difference);
        return Outcome.Ok;
    }

    /// <summary>Takes the authorisation back: the customer said no, or something was found that changes what was signed for.</summary>
    public Outcome<Done> WithdrawAuthorisation()
    {
        if (Authorisation is null)
        {
            return Failure.Because("notAuthorised", "There is no authorisation to withdraw.");
        }

        Authorisation = null;
        return Outcome.Ok;
    }

    /// <summary>Forgets what leads to a person: the signature and the free notes.</summary>
    public void ErasePersonalData()
    {
        Authorisation = Authorisation is { } a ? a with { Signature = a.Signature.Erased() } : null;
        KeysNote = Note = WarningLightsNote = null;
        InTheCar = [];
    }

    private Outcome<Done> Apply(DropOffDetails details)
    {
        var errors = new FieldErrors();
        Odometer.Check(details.OdometerKm, "odometerKm", errors);
        errors.AddIf(
            details.FuelPercent is < 0 or > 100,
            "fuelPercent",
            $"The fuel level {details.FuelPercent} % is outside 0 to 100."
        );
        errors.AddIf(details.Keys is < 0 or > MostKeys, "keys", $"{details.Keys} keys are outside 0 to {MostKeys}.");
        var lightsNote = Clean(details.WarningLightsNote, "warningLightsNote", "The note on warning lights");
        var keysNote = Clean(details.KeysNote, "keysNote", "The note on keys");
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.Note, errors);
        var condition = ConditionAnswers.Clean(details.ConditionFound, "conditionFound", MostAnswers, errors);
        var fitted = TextLines.Clean(details.StaysFitted, "staysFitted", MostLines, errors);
        var inside = TextLines.Clean(details.InTheCar, "inTheCar", MostLines, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        OdometerKm = details.OdometerKm;
        WarningLights = details.WarningLights is { } lights ? [.. lights.Distinct().Order()] : null;
        WarningLightsNote = lightsNote;
        FuelPercent = details.FuelPercent;
        Keys = details.Keys;
        KeysNote = keysNote;
        ConditionFound = condition;
        StaysFitted = fitted;
        InTheCar = inside;
        Battery = details.Battery;
        PhotoConsent = details.PhotoConsent ?? PhotoConsent.NotAsked;
        Note = note;
        return Outcome.Ok;

        string? Clean(string? text, string path, string label) =>
            TextRules.Optional(text, path, label, TextRules.ShortText, errors);
    }
}
