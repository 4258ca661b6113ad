using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>What an instrument is, as people choose it from a list.</summary>
public enum InstrumentKind
{
    Caliper,
    Tape,
    FeelerGauge,
    AngleGauge,
    Level,
    Thickness,
    Torque,
    Other,
}

/// <summary>An instrument of the shop's register: how far its readings can be off, and until when its calibration holds.</summary>
public sealed class Instrument : IVersioned
{
    public const int MostOfShop = 200;
    public const decimal LargestUncertainty = 1_000m;

    /// <summary>Units an instrument can be entered in.</summary>
    public static IReadOnlyList<string> Units { get; } = ["mm", "in", "°", "N·m"];

    private Instrument() { }

    public InstrumentId Id { get; private set; }

    public long Version { get; private set; }

    /// <summary>As it is marked; one name, one instrument in use.</summary>
    public string Name { get; private set; } = "";

    public InstrumentKind Kind { get; private set; }

    /// <summary>One of <see cref="Units"/>.</summary>
    public string Unit { get; private set; } = "";

    /// <summary>Half-width, in <see cref="Unit"/>, within which the true value lies; from its certificate, else the owner's estimate. 0 where nobody knows it.</summary>
    public decimal Uncertainty { get; private set; }

    /// <summary>Last day on which the calibration holds; null where the instrument needs none, such as a feeler gauge.</summary>
    public DateOnly? CalibrationDueOn { get; private set; }

    public string? Note { get; private set; }

    public bool IsRetired { get; private set; }

    public PersonId? ChangedBy { get; private set; }

    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>As somebody writes it down.</summary>
    public sealed record Details(
        string? Name,
        InstrumentKind? Kind,
        string? Unit,
        decimal? Uncertainty,
        DateOnly? CalibrationDueOn,
        string? Note
    );

    public static Outcome<Instrument> Add(InstrumentId id, Details details, PersonId? by, DateTimeOffset at)
    {
        var instrument = new Instrument { Id = id };
        return instrument.Change(details, by, at).Then<Instrument>(_ => instrument);
    }

    public Outcome<Done> Change(Details details, PersonId? by, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(details);
        if (IsRetired)
        {
            return Failure.Because(
                "instrumentRetired",
                $"{Name} is not in use any more. Add it as a new instrument where it comes back."
            );
        }

        var errors = new FieldErrors();
        var name = TextRules.Required(details.Name, "name", "The instrument's name", TextRules.Code, errors);
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.ShortText, errors);
        var uncertainty = details.Uncertainty ?? 0;
        errors
            .AddIf(details.Kind is null, "kind", "Say what kind of instrument it is.")
            .AddIf(
                details.Unit is null || !Units.Contains(details.Unit),
                "unit",
                $"The unit is one of: {string.Join(", ", Units)}."
            )
            .AddIf(
                uncertainty is < 0 or > LargestUncertainty,
                "uncertainty",
                $"The uncertainty lies from 0 to {LargestUncertainty}."
            )
            .AddIf(
                decimal.Round(uncertainty, MeasuredText.MostTypedDecimals) != uncertainty,
                "uncertainty",
                $"The uncertainty has at most {MeasuredText.MostTypedDecimals} decimals."
            );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Name, Note, Kind, Unit) = (name, note, details.Kind!.Value, details.Unit!);
        (Uncertainty, CalibrationDueOn) = (uncertainty, details.CalibrationDueOn);
        (ChangedBy, ChangedAt) = (by, at);
        return Outcome.Ok;
    }

    /// <summary>It is broken, lost or sold: it is offered no more, and readings taken with it stay.</summary>
    public Outcome<Done> Retire(PersonId? by, DateTimeOffset at)
    {
        if (IsRetired)
        {
            return Failure.Because("instrumentRetired", $"{Name} is out of use already.");
        }

        (IsRetired, ChangedBy, ChangedAt) = (true, by, at);
        return Outcome.Ok;
    }

    public bool IsOverdueOn(DateOnly day) => day > CalibrationDueOn;

    /// <summary>Why nothing passes by this instrument on a day; null where it may be used. A fault may be found with any instrument.</summary>
    public string? RefusalOn(DateOnly day) =>
        IsRetired ? $"{Name} is out of use. Measure with another instrument."
        : IsOverdueOn(day)
            ? $"{Name} was due for calibration on {CalibrationDueOn!.Value.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}, so nothing passes by it. Measure with another instrument, or have it calibrated and the owner enter the new date."
        : null;
}

/// <summary>The instrument a value was read from.</summary>
/// <param name="On">The shop's local day of the reading.</param>
public sealed record InstrumentInUse(Instrument Instrument, DateOnly On)
{
    public string? Refusal => Instrument.RefusalOn(On);

    /// <summary>In a line's unit; null where it says nothing about values in that unit.</summary>
    public decimal? UncertaintyIn(string? unit) =>
        unit is null ? null : MeasuredText.InUnit(Instrument.Uncertainty, Instrument.Unit, unit);
}
