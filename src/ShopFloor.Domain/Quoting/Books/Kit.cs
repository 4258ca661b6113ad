using System.Text.Json.Serialization;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Quoting;

/// <summary>What the shop sells as one set: tubes, plates, hardware. Its operations and inspection lines are those of the route template and the inspection plan that name it.</summary>
/// <param name="HasDoorBars">Whether a hinge option is chosen for each door.</param>
/// <param name="PriceMinor">The material's price, or the whole price where <see cref="LabourPriceMinor"/> is 0.</param>
/// <param name="Contents">What is in it, a sentence each, for the customer.</param>
public sealed record Kit(
    string Code,
    string Title,
    bool HasDoorBars,
    long PriceMinor,
    IReadOnlyList<string> Contents,
    IReadOnlyList<string> TaxCodes
)
{
    /// <summary>Work on the kit itself before it meets a car, such as bending and cutting, where taxes or papers keep it apart from the material; 0 for none.</summary>
    public long LabourPriceMinor { get; init; }

    /// <summary>Taxes on <see cref="LabourPriceMinor"/>.</summary>
    public IReadOnlyList<string> LabourTaxCodes { get; init; } = [];

    /// <summary>What the work of <see cref="LabourPriceMinor"/> costs the shop.</summary>
    public long LabourCostMinor { get; init; }

    public IReadOnlyList<KitPart> Parts { get; init; } = [];

    /// <summary>Welds to be laid, for the workbench and for looking back; hours are priced from the route.</summary>
    public IReadOnlyList<KitWeld> Welds { get; init; } = [];

    /// <summary>Purchase cost of all parts.</summary>
    [JsonIgnore]
    public decimal PartsCostMinor => Parts.Sum(p => p.Quantity * p.CostMinor);

    /// <summary>Mass of all parts in kg, from their sizes or as stated.</summary>
    [JsonIgnore]
    public decimal MassKg => Parts.Sum(p => p.Quantity * p.UnitMassKg);
}

public enum KitPartKind
{
    Tube,
    Plate,
    Hardware,
}

/// <summary>A part of a kit. A tube has diameter, wall and length; a plate has length, width and thickness; hardware has its mass.</summary>
/// <param name="Quantity">Pieces, over 0.</param>
/// <param name="CostMinor">What one piece costs the shop.</param>
public sealed record KitPart(string Code, string Title, KitPartKind Kind, decimal Quantity, long CostMinor)
{
    public decimal? OutsideDiameterMm { get; init; }

    public decimal? WallMm { get; init; }

    public decimal? LengthMm { get; init; }

    public decimal? WidthMm { get; init; }

    public decimal? ThicknessMm { get; init; }

    /// <summary>Material as ordered, e.g. "seamless, cold drawn".</summary>
    public string? Material { get; init; }

    /// <summary>Stated mass of one piece; hardware must have one, a tube or plate may.</summary>
    public decimal? MassKg { get; init; }

    /// <summary>Mass of one piece in kg: as stated, else from its size in steel.</summary>
    [JsonIgnore]
    public decimal UnitMassKg =>
        MassKg
        ?? this switch
        {
            { Kind: KitPartKind.Tube, OutsideDiameterMm: { } od, WallMm: { } wall, LengthMm: { } length } =>
                SteelMass.OfTubeKg(od, wall, length),
            { Kind: KitPartKind.Plate, LengthMm: { } length, WidthMm: { } width, ThicknessMm: { } thick } =>
                SteelMass.OfPlateKg(length, width, thick),
            _ => 0,
        };
}

/// <summary>A weld of a kit.</summary>
/// <param name="Process">E.g. <c>gmaw</c>.</param>
/// <param name="Position">E.g. <c>flat</c>, <c>vertical</c>, <c>overhead</c>.</param>
public sealed record KitWeld(string Where, string Process, string Position, decimal LengthMm);

/// <summary>How a door bar opens; chosen for each door.</summary>
/// <param name="PriceMinor">Hardware for one door.</param>
public sealed record HingeOption(
    string Code,
    string Title,
    string Description,
    long PriceMinor,
    IReadOnlyList<string> TaxCodes
)
{
    /// <summary>Length of the part that slides into the tube, in mm; null where nothing is cut in.</summary>
    public decimal? InsertLengthMm { get; init; }

    /// <summary>Length of tube that the hinge's body takes the place of, in mm.</summary>
    public decimal? BodyLengthMm { get; init; }

    /// <summary>Straight tube to be left beyond the insert, in mm.</summary>
    public decimal? ClearanceMm { get; init; }

    /// <summary>Bolts, pins and clips, a sentence each.</summary>
    public IReadOnlyList<string> Hardware { get; init; } = [];

    public decimal MassKg { get; init; }

    public long CostMinor { get; init; }

    /// <summary>Work for one door beyond what the route counts for every door bar.</summary>
    public IReadOnlyList<AddedWork> Work { get; init; } = [];
}

/// <summary>Work content that the price book adds to an operation of the route.</summary>
/// <param name="OperationCode">Number of an operation that is on the job's route.</param>
/// <param name="Quantity">Units of the standard, over 0.</param>
/// <param name="Skill">Whose rate applies; null for the operation's own.</param>
public sealed record AddedWork(string OperationCode, string StandardCode, decimal Quantity, string? Skill = null);
