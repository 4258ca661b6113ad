using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.DropOffs;

/// <summary>What is answered on the drop-off page.</summary>
public sealed class DropOffForm
{
    public CarFacts Facts { get; set; } = Car.UnknownFacts;
    public int? OdometerKm { get; set; }
    public IReadOnlyList<WarningLight>? WarningLights { get; set; }
    public string? WarningLightsNote { get; set; }
    public int? FuelPercent { get; set; }
    public int? Keys { get; set; }
    public string? KeysNote { get; set; }

    /// <summary>Question code to answer code; what is not in it has not been looked at.</summary>
    public Dictionary<string, string?> ConditionFound { get; } = new(StringComparer.Ordinal);
    public string? StaysFitted { get; set; }
    public string? InTheCar { get; set; }
    public BatteryState? Battery { get; set; }
    public PhotoConsent PhotoConsent { get; set; }
    public string? Note { get; set; }

    public void Read(DropOffSheet sheet)
    {
        Facts = sheet.Car.Facts;
        ConditionFound.Clear();
        if (sheet.DropOff is not { } d)
        {
            return;
        }

        OdometerKm = d.OdometerKm;
        WarningLights = d.WarningLights;
        WarningLightsNote = d.WarningLightsNote;
        FuelPercent = d.FuelPercent;
        Keys = d.Keys;
        KeysNote = d.KeysNote;
        foreach (var (question, answer) in d.ConditionFound)
        {
            ConditionFound[question] = answer;
        }

        StaysFitted = string.Join('\n', d.StaysFitted);
        InTheCar = string.Join('\n', d.InTheCar);
        Battery = d.Battery;
        PhotoConsent = d.PhotoConsent;
        Note = d.Note;
    }

    public DropOffInput ToInput() =>
        new(
            CarFactsInput.Of(Facts),
            OdometerKm,
            WarningLights,
            WarningLightsNote,
            FuelPercent,
            Keys,
            KeysNote,
            new Dictionary<string, string?>(ConditionFound),
            LinesOf(StaysFitted),
            LinesOf(InTheCar),
            Battery,
            PhotoConsent,
            Note
        );

    private static string[] LinesOf(string? text) =>
        (text ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
