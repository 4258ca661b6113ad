using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Materials;

/// <summary>What a person is qualified to weld, as their certificate says it. The shop names the standard; the program judges nothing but the day.</summary>
public sealed class WelderQualification : IVersioned
{
    /// <summary>Most entries in the shop's register.</summary>
    public const int MostOfShop = 500;

    private WelderQualification() { }

    public WelderQualificationId Id { get; private set; }

    public long Version { get; private set; }

    public PersonId Person { get; private set; }

    /// <summary>The welding process, e.g. <c>135</c> or <c>MAG</c>.</summary>
    public string Process { get; private set; } = "";

    /// <summary>The standard it was tested to, as the shop names it.</summary>
    public string Standard { get; private set; } = "";

    /// <summary>Number of the certificate; null where it has none.</summary>
    public string? Number { get; private set; }

    /// <summary>Last day on which it holds; null where it does not run out.</summary>
    public DateOnly? ValidUntil { get; private set; }

    public bool IsRetired { get; private set; }

    public PersonId? ChangedBy { get; private set; }

    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>As somebody writes it down.</summary>
    public sealed record Details(string? Process, string? Standard, string? Number, DateOnly? ValidUntil);

    /// <summary>Process, standard and number in one line, as papers say them.</summary>
    public string Words =>
        Number is null
            ? $"{Process}, {Standard}"
            : string.Create(CultureInfo.InvariantCulture, $"{Process}, {Standard}, no. {Number}");

    public bool IsExpiredOn(DateOnly day) => day > ValidUntil;

    public static Outcome<WelderQualification> Add(
        WelderQualificationId id,
        PersonId person,
        Details details,
        PersonId? by,
        DateTimeOffset at
    )
    {
        var made = new WelderQualification { Id = id, Person = person };
        return made.Change(details, by, at).Then<WelderQualification>(_ => made);
    }

    /// <summary>Changes it, a new last day among it; welds written down before keep what it said then.</summary>
    public Outcome<Done> Change(Details details, PersonId? by, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(details);
        if (IsRetired)
        {
            return Failure.Because("qualificationRetired", "This qualification is withdrawn. Add it as a new one.");
        }

        var errors = new FieldErrors();
        var process = TextRules.Required(details.Process, "process", "The process", TextRules.Code, errors);
        var standard = TextRules.Required(details.Standard, "standard", "The standard", TextRules.Name, errors);
        var number = TextRules.Optional(details.Number, "number", "The number", TextRules.Code, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Process, Standard, Number, ValidUntil) = (process, standard, number, details.ValidUntil);
        (ChangedBy, ChangedAt) = (by, at);
        return Outcome.Ok;
    }

    /// <summary>It is offered no more; welds written down with it stay.</summary>
    public Outcome<Done> Retire(PersonId? by, DateTimeOffset at)
    {
        if (IsRetired)
        {
            return Failure.Because("qualificationRetired", "This qualification is withdrawn already.");
        }

        (IsRetired, ChangedBy, ChangedAt) = (true, by, at);
        return Outcome.Ok;
    }
}
