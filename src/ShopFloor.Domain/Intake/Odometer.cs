using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>Range and units of an odometer reading. Stored in whole kilometres; one in whole miles comes back to the same mile, because half a kilometre is less than half a mile.</summary>
public static class Odometer
{
    /// <summary>Seven digits: more than any odometer shows.</summary>
    public const int HighestKm = 9_999_999;

    /// <summary>Statute mile of exactly 1609.344 m (international yard and pound agreement, 1959).</summary>
    private const decimal KmPerMile = 1.609344m;

    public static int KmFromMiles(int miles) =>
        (int)Math.Min(decimal.Round(miles * KmPerMile, MidpointRounding.AwayFromZero), int.MaxValue);

    public static int MilesFromKm(int km) => (int)decimal.Round(km / KmPerMile, MidpointRounding.AwayFromZero);

    internal static int? Check(int? km, string path, FieldErrors errors)
    {
        errors.AddIf(
            km is < 0 or > HighestKm,
            path,
            $"The odometer reads {km} km, which is outside 0 to {HighestKm}. Enter what the dial shows."
        );
        return km;
    }
}
