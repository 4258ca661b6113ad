using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>The intake record of a job as shown.</summary>
/// <param name="Missing">What must still be asked before the customer can sign.</param>
/// <param name="Authorisation">Null until signed.</param>
public sealed record DropOffView(
    DropOffId Id,
    long Version,
    JobId JobId,
    DateTimeOffset BroughtInAt,
    int? OdometerKm,
    IReadOnlyList<WarningLight>? WarningLights,
    string? WarningLightsNote,
    int? FuelPercent,
    int? Keys,
    string? KeysNote,
    IReadOnlyDictionary<string, string> ConditionFound,
    IReadOnlyList<string> StaysFitted,
    IReadOnlyList<string> InTheCar,
    BatteryState? Battery,
    PhotoConsent PhotoConsent,
    string? Note,
    IReadOnlyList<Warning> Missing,
    AuthorisationView? Authorisation
)
{
    public static DropOffView Of(DropOff d) =>
        new(
            d.Id,
            d.Version,
            d.JobId,
            d.BroughtInAt,
            d.OdometerKm,
            d.WarningLights,
            d.WarningLightsNote,
            d.FuelPercent,
            d.Keys,
            d.KeysNote,
            d.ConditionFound,
            d.StaysFitted,
            d.InTheCar,
            d.Battery,
            d.PhotoConsent,
            d.Note,
            [.. d.Missing.Select(m => new Warning(m.Code, m.Text))],
            d.Authorisation is { } a ? AuthorisationView.Of(a) : null
        );
}

/// <summary>Who authorised the work, how and when, and which words and difference were shown.</summary>
public sealed record AuthorisationView(
    SignatureKind Kind,
    string SignedBy,
    DateTimeOffset SignedAt,
    IReadOnlyList<IReadOnlyList<int>> Strokes,
    string NoticeHash,
    ShownDifference? ShownDifference
)
{
    public static AuthorisationView Of(Authorisation a) =>
        new(
            a.Signature.Kind,
            a.Signature.SignedBy,
            a.Signature.SignedAt,
            a.Signature.Strokes,
            a.NoticeHash,
            a.ShownDifference
        );
}

/// <summary>What the history keeps of the record: figures and codes, no free text.</summary>
internal sealed record DropOffTrace(
    int? OdometerKm,
    IReadOnlyList<WarningLight>? WarningLights,
    int? FuelPercent,
    int? Keys,
    BatteryState? Battery,
    PhotoConsent PhotoConsent,
    IReadOnlyDictionary<string, string> ConditionFound
)
{
    public static DropOffTrace Of(DropOff d) =>
        new(d.OdometerKm, d.WarningLights, d.FuelPercent, d.Keys, d.Battery, d.PhotoConsent, d.ConditionFound);
}
