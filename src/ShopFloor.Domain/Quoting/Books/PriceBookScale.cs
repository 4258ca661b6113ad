namespace ShopFloor.Domain.Quoting;

/// <summary>Multiplies every amount of a price book, for a currency with other minor units.</summary>
public static class PriceBookScale
{
    public static PriceBook By(PriceBook book, long factor)
    {
        ArgumentNullException.ThrowIfNull(book);
        return book with
        {
            Deposit = book.Deposit with { LeastMinor = book.Deposit.LeastMinor * factor },
            Minimum = book.Minimum is { } least ? least with { PriceMinor = least.PriceMinor * factor } : null,
            Kits = [.. book.Kits.Select(k => Kit(k, factor))],
            HingeOptions =
            [
                .. book.HingeOptions.Select(h =>
                    h with
                    {
                        PriceMinor = h.PriceMinor * factor,
                        CostMinor = h.CostMinor * factor,
                    }
                ),
            ],
            Skills =
            [
                .. book.Skills.Select(s =>
                    s with
                    {
                        RateMinorPerHour = s.RateMinorPerHour * factor,
                        CostMinorPerHour = s.CostMinorPerHour * factor,
                    }
                ),
            ],
            Materials =
            [
                .. book.Materials.Select(m =>
                    m with
                    {
                        PriceMinor = m.PriceMinor * factor,
                        CostMinor = m.CostMinor * factor,
                    }
                ),
            ],
            OutsideWork =
            [
                .. book.OutsideWork.Select(o =>
                    o with
                    {
                        PriceMinor = o.PriceMinor * factor,
                        CostMinor = o.CostMinor * factor,
                    }
                ),
            ],
            Freight = book.Freight is { } freight
                ? freight with
                {
                    Zones = [.. freight.Zones.Select(z => Zone(z, factor))],
                }
                : null,
        };
    }

    private static Kit Kit(Kit kit, long factor) =>
        kit with
        {
            PriceMinor = kit.PriceMinor * factor,
            LabourPriceMinor = kit.LabourPriceMinor * factor,
            LabourCostMinor = kit.LabourCostMinor * factor,
            Parts = [.. kit.Parts.Select(p => p with { CostMinor = p.CostMinor * factor })],
        };

    private static FreightZone Zone(FreightZone zone, long factor) =>
        zone with
        {
            Bands =
            [
                .. zone.Bands.Select(b =>
                    b with
                    {
                        PriceMinor = b.PriceMinor * factor,
                        CostMinor = b.CostMinor * factor,
                    }
                ),
            ],
        };
}
