using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>A die of the shop's bender, with what the shop has measured of it: radius, the straight it needs, where its mark lies, and how tube springs back in it.</summary>
public sealed class BenderDie : IVersioned
{
    public const int MostOfShop = 200;

    private BenderDie() { }

    public BenderDieId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>As the shop calls it; one name, one die in use.</summary>
    public string Name { get; private set; } = "";

    /// <summary>For tube of this outside diameter.</summary>
    public double OutsideDiameterMm { get; private set; }
    public double CentrelineRadiusMm { get; private set; }

    /// <summary>From the bend's tangent point to the bender's mark; below zero where the mark comes first.</summary>
    public double MarkOffsetMm { get; private set; }

    /// <summary>Straight that it needs to hold the tube.</summary>
    public double ClampMm { get; private set; }

    /// <summary>Trial bends, rising; empty where none was made.</summary>
    public IReadOnlyList<SpringbackReading> Trials { get; private set; } = [];

    /// <summary>With which tube and wall the trials were made.</summary>
    public string? Note { get; private set; }
    public bool IsRetired { get; private set; }
    public PersonId? ChangedBy { get; private set; }
    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>A die as somebody writes it down; null where nothing was given.</summary>
    public sealed record Details(
        string? Name,
        double? OutsideDiameterMm,
        double? CentrelineRadiusMm,
        double? MarkOffsetMm,
        double? ClampMm,
        IReadOnlyList<SpringbackReading> Trials,
        string? Note
    );

    public static Outcome<BenderDie> Add(BenderDieId id, Details details, PersonId? by, DateTimeOffset at)
    {
        var die = new BenderDie { Id = id };
        return die.Change(details, by, at).Then<BenderDie>(_ => die);
    }

    public Outcome<Done> Change(Details details, PersonId? by, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(details);
        if (IsRetired)
        {
            return Failure.Because("dieRetired", $"{Name} is not in use any more. Add it as a new die.");
        }

        var errors = new FieldErrors();
        var name = TextRules.Required(details.Name, "name", "The die's name", TextRules.Code, errors);
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.ShortText, errors);
        var diameter = details.OutsideDiameterMm ?? 0;
        var radius = details.CentrelineRadiusMm ?? 0;
        if (FigureRules.IsSize(diameter, "outsideDiameterMm", "The tube's outside diameter", errors))
        {
            FigureRules.IsBendRadius(radius, diameter, "centrelineRadiusMm", errors);
        }

        FigureRules.IsCoordinate(details.MarkOffsetMm ?? 0, "markOffsetMm", "The mark's offset", errors);
        FigureRules.IsSizeOrNone(details.ClampMm ?? 0, "clampMm", "The straight the die needs", errors);
        var table = SpringbackTable.Of(name, details.Trials);
        errors.Take(table);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Name, Note, OutsideDiameterMm, CentrelineRadiusMm) = (name, note, diameter, radius);
        (MarkOffsetMm, ClampMm, Trials) = (details.MarkOffsetMm ?? 0, details.ClampMm ?? 0, table.Value.Measured);
        (ChangedBy, ChangedAt) = (by, at);
        return Outcome.Ok;
    }

    /// <summary>It is worn, sold or broken: it is offered no more, and what was figured with it stays.</summary>
    public Outcome<Done> Retire(PersonId? by, DateTimeOffset at)
    {
        if (IsRetired)
        {
            return Failure.Because("dieRetired", $"{Name} is out of use already.");
        }

        (IsRetired, ChangedBy, ChangedAt) = (true, by, at);
        return Outcome.Ok;
    }
}
