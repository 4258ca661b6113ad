using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Tests.Intake;

/// <summary>Valid records, so that a test shows only what matters to it.</summary>
internal static class Sample
{
    public static readonly DateTimeOffset At = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);
    public static readonly DateOnly Today = new(2026, 3, 2);
    public static readonly Currency Euro = Currency.Of("EUR");

    public static SignatureDetails Drawn { get; } =
        new(
            SignatureKind.OnScreen,
            "Ada",
            [
                [10, 20, 30, 40],
            ]
        );

    public static SignatureDetails OnPaper { get; } = new(SignatureKind.PrintedSheet, "Ada");

    public static DropOffDetails Complete { get; } =
        new(
            OdometerKm: 81_000,
            WarningLights: [],
            FuelPercent: 25,
            Keys: 2,
            KeysNote: "Board 3",
            ConditionFound: new Dictionary<string, string?> { ["floor"] = "thin" },
            InTheCar: ["Child seat"],
            Battery: BatteryState.Good,
            PhotoConsent: PhotoConsent.WithoutPlates,
            Note: "Collects on Friday"
        );

    public static DropOff DropOff(DropOffDetails? details = null) =>
        Domain.Intake.DropOff.Begin(Ids.New<DropOffId>(At), Ids.New<JobId>(At), details ?? Complete, At).Value;

    public static IReadOnlyList<string> PathsOf<T>(Outcome<T> outcome) =>
        [.. Assert.IsType<Failure.Invalid>(outcome.Failure).Errors.Select(e => e.Path)];

    public static IReadOnlyList<string> CodesOf<T>(Outcome<T> outcome) =>
        [.. Assert.IsType<Failure.Refused>(outcome.Failure).Reasons.Select(r => r.Code)];
}
