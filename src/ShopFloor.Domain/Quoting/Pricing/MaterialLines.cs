using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Consumables and paint: by the work content they go with, or as a share of labour.</summary>
internal static class MaterialLines
{
    internal static void Write(BookIndex index, PriceInput input, LabourEstimate labour, List<DraftLine> lines)
    {
        var labourMinor = lines.Where(l => l.Group == LineGroup.Labour).Sum(l => LineWriter.NetOf(index.Book, l));
        foreach (var material in index.Book.Materials.OrderBy(m => m.Group))
        {
            var line = material.LabourPercent is { } percent
                ? ShareLine(index, material, percent, labourMinor)
                : ContentLine(index, material, WorkOf(material, labour));
            if (line.Quantity > 0)
            {
                lines.Add(line);
            }
        }
    }

    /// <summary>The work that a material goes with, in the order in which it names its standards.</summary>
    private static List<WorkContent> WorkOf(Material material, LabourEstimate labour)
    {
        var work = new List<WorkContent>();
        foreach (var code in material.StandardCodes)
        {
            foreach (var item in labour.Items)
            {
                if (item.Work.StandardCode == code)
                {
                    work.Add(item.Work);
                }
            }
        }

        return work;
    }

    private static DraftLine ContentLine(BookIndex index, Material material, List<WorkContent> work)
    {
        var quantity = decimal.Round(
            work.Sum(w => w.Quantity) / material.ContentPerUnit,
            2,
            MidpointRounding.AwayFromZero
        );
        return Line(
            index,
            material,
            quantity,
            material.Unit,
            material.PriceMinor,
            quantity * material.CostMinor,
            "Charged by the work content it goes with.",
            [
                new("Quantity", $"{Figures.Plain(quantity)} {material.Unit}"),
                new("Price", $"{Figures.Money(index.Book, material.PriceMinor)} per {material.Unit}"),
            ],
            new DeferredList<Explanation>(work.Count, () => [.. work.Select(w => PartOf(index, w))])
        );
    }

    private static DraftLine ShareLine(BookIndex index, Material material, decimal percent, long labourMinor)
    {
        var price = Money.Round(labourMinor * percent / 100, index.Book.Rounding);
        return Line(
            index,
            material,
            labourMinor > 0 ? 1 : 0,
            "piece",
            price,
            price * material.CostPercent / 100,
            "Charged as a share of the labour of this sale.",
            [new("Labour", Figures.Money(index.Book, labourMinor)), new("Share", Figures.Plain(percent) + " %")],
            []
        );
    }

    private static DraftLine Line(
        BookIndex index,
        Material material,
        decimal quantity,
        string unit,
        long unitPriceMinor,
        decimal costMinor,
        string rule,
        IReadOnlyList<ExplanationInput> inputs,
        IReadOnlyList<Explanation> parts
    ) =>
        new(
            "material:" + material.Code,
            material.Group == MaterialGroup.Paint ? LineGroup.Paint : LineGroup.Consumables,
            null,
            material.Title,
            quantity,
            unit,
            unitPriceMinor,
            material.TaxCodes,
            rule,
            index.Source,
            inputs,
            parts,
            costMinor
        );

    private static Explanation PartOf(BookIndex index, WorkContent work)
    {
        var standard = index.Standards[work.StandardCode];
        return new Explanation(
            $"Operation {work.OperationCode}, {work.OperationTitle}",
            [new("Counts", standard.Title)],
            "Route template",
            $"{Figures.Plain(work.Quantity)} {standard.Unit}",
            []
        );
    }
}
