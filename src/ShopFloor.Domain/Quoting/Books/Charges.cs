namespace ShopFloor.Domain.Quoting;

/// <summary>What is asked for on acceptance: a part of the amount due, but at least so much, and never more than is due.</summary>
/// <param name="Percent">0 to 100.</param>
/// <param name="LeastMinor">0 or more.</param>
/// <param name="BeforeStart">Whether work waits until it is paid.</param>
public sealed record DepositRule(decimal Percent, long LeastMinor = 0, bool BeforeStart = false);

/// <summary>The least that a sale before discount and tax comes to; a smaller one gets a line that makes up the difference.</summary>
public sealed record MinimumCharge(long PriceMinor, IReadOnlyList<string> TaxCodes);

public enum MaterialGroup
{
    Consumables,
    Paint,
}

/// <summary>Consumables and paint, charged by the work content they go with or as a share of labour.</summary>
/// <param name="Unit">What one priced unit is: "m of weld", "m²".</param>
/// <param name="StandardCodes">Whose work content is counted; empty where it is a share of labour.</param>
/// <param name="ContentPerUnit">Work content in one priced unit: 1000 where standards count mm and the price is for a metre.</param>
public sealed record Material(
    string Code,
    string Title,
    MaterialGroup Group,
    string Unit,
    IReadOnlyList<string> StandardCodes,
    decimal ContentPerUnit,
    long PriceMinor,
    IReadOnlyList<string> TaxCodes
)
{
    /// <summary>Percent of the labour's net price, over 0 and at most 100, in place of a price per unit.</summary>
    public decimal? LabourPercent { get; init; }

    /// <summary>What one unit costs the shop.</summary>
    public long CostMinor { get; init; }

    /// <summary>What it costs the shop in percent of its price, where it is a share of labour.</summary>
    public decimal CostPercent { get; init; }
}

/// <summary>Work done elsewhere, such as coating or bending.</summary>
/// <param name="WaitDays">Days until it comes back, 0 to 365.</param>
public sealed record OutsideWork(
    string Code,
    string Title,
    long PriceMinor,
    long CostMinor,
    int WaitDays,
    IReadOnlyList<string> TaxCodes
);

/// <summary>Carriage by mass and zone.</summary>
/// <param name="FittedZoneCode">Zone of the carriage of the material to the shop, charged on every car fitted here; null for none.</param>
public sealed record Freight(
    string Title,
    IReadOnlyList<FreightZone> Zones,
    IReadOnlyList<string> TaxCodes,
    string? FittedZoneCode = null
)
{
    public FreightZone? FindZone(string code) => Zones.FirstOrDefault(z => z.Code == code);
}

/// <summary>Where to, and what it costs up to which mass; bands rise.</summary>
public sealed record FreightZone(string Code, string Title, IReadOnlyList<FreightBand> Bands)
{
    /// <summary>The band for a mass; null where it is above the last.</summary>
    public FreightBand? BandFor(decimal massKg) => Bands.FirstOrDefault(b => massKg <= b.UpToKg);
}

public sealed record FreightBand(decimal UpToKg, long PriceMinor, long CostMinor = 0);

/// <summary>A tax the shop charges and how its rate changed over time.</summary>
/// <param name="Rates">By first day, rising; each holds until the next begins.</param>
public sealed record BookTax(string Code, string Title, IReadOnlyList<TaxPeriod> Rates)
{
    /// <summary>The rate in percent on a day; null before its first day and after it has ended.</summary>
    public decimal? RateOn(DateOnly day) => Rates.LastOrDefault(r => r.From <= day)?.RatePercent;
}

/// <param name="RatePercent">0 to 100, up to 4 decimals; null from the day on which the tax is no longer charged.</param>
public sealed record TaxPeriod(DateOnly From, decimal? RatePercent);
