using System.Text.RegularExpressions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>The number on the car's chassis plate: a VIN where it has 17 characters, else whatever the maker stamped.</summary>
/// <remarks>Cars before model year 1981 and cars from elsewhere have shorter or longer numbers, so anything up to 32 characters is kept. <c>default</c> is refused by <see cref="Text"/>.</remarks>
public readonly partial record struct ChassisNumber
{
    public const int LongestText = 32;

    private readonly string? text;

    private ChassisNumber(string text) => this.text = text;

    public string Text => text ?? throw new InvalidOperationException("A chassis number has characters.");

    /// <summary>The number as a VIN, where it is one.</summary>
    public Vin? Vin => Intake.Vin.TryParse(text, out var vin) ? vin : null;

    /// <summary>Reads a number; where 17 characters are left without spaces and hyphens, 49 CFR 565 applies and I, O, Q are refused. A failed check digit is never a reason to refuse.</summary>
    public static Outcome<ChassisNumber> Parse(string entered, string path)
    {
        var shown = Spaces().Replace(entered.Trim(), " ").ToUpperInvariant();
        if (shown.Length == 0)
        {
            return Failure.Field(path, "The chassis number is empty. Leave the field out where the car has none.");
        }

        if (shown.Length > LongestText && Intake.Vin.Clean(shown).Length > LongestText)
        {
            return Failure.Field(
                path,
                $"The chassis number has {shown.Length} characters; at most {LongestText} are kept. Enter only the number itself."
            );
        }

        if (shown.Any(c => char.IsControl(c) || char.IsSurrogate(c)))
        {
            return Failure.Field(
                path,
                "The chassis number contains characters that cannot be kept. Type it from the plate."
            );
        }

        var clean = Intake.Vin.Clean(shown);
        if (clean.Length != Intake.Vin.Length)
        {
            return new ChassisNumber(shown.Length > LongestText ? clean : shown);
        }

        return Intake.Vin.TryParse(clean, out _)
            ? new ChassisNumber(clean)
            : Failure.Field(path, string.Join(" ", VinReport.WhatIsWrong(clean)));
    }

    /// <summary>Wraps a number that was stored by us.</summary>
    public static ChassisNumber FromStored(string text) => new(text);

    /// <summary>What to tell the person who enters the car; none of it forbids anything.</summary>
    /// <param name="modelYear">As entered for the car.</param>
    /// <param name="builtForNorthAmerica">Where true, the check digit and the year code are binding under 49 CFR 565.</param>
    public IReadOnlyList<Reason> Warnings(int modelYear, bool builtForNorthAmerica)
    {
        List<Reason> warnings = [];
        if (Vin is not { } vin)
        {
            if (builtForNorthAmerica && modelYear >= 1981)
            {
                warnings.Add(
                    new(
                        "notSeventeen",
                        $"Cars built for North America from model year 1981 have a VIN of 17 characters; this number has {Intake.Vin.Clean(Text).Length}. Look at the plate behind the windscreen."
                    )
                );
            }

            return warnings;
        }

        if (builtForNorthAmerica && !vin.CheckDigitMatches)
        {
            warnings.Add(
                new(
                    "checkDigit",
                    $"The check digit (position 9) is {vin.CheckDigitFound} but should be {vin.CheckDigitExpected}: probably one character is mistyped. Compare with the plate."
                )
            );
        }

        if (builtForNorthAmerica && !vin.ModelYearCandidates.Contains(modelYear))
        {
            var years = vin.ModelYearCandidates is [var a, var b] ? $"{a} or {b}" : "no year";
            warnings.Add(
                new("modelYear", $"Position 10 of the VIN stands for {years}, but the car is entered as {modelYear}.")
            );
        }

        return warnings;
    }

    public override string ToString() => text ?? "";

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
