using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Writes the lines of a quote in the order in which a customer reads them: kit, doors, labour by phase, material, outside work, freight, own lines.</summary>
internal static class LineWriter
{
    internal static List<DraftLine> Write(BookIndex index, PriceInput input, LabourEstimate labour)
    {
        var (book, lines) = (index.Book, new List<DraftLine>(40));
        if (input.Scope.KitCode is { } code)
        {
            KitLines(index, book.FindKit(code)!, lines);
        }

        lines.AddRange(input.Scope.Doors.OrderBy(d => d.Door).Select(d => DoorLine(index, d)));
        LabourLines.Write(index, labour, lines);
        MaterialLines.Write(index, input, labour, lines);
        lines.AddRange(input.Extras.OutsideWorkCodes.Select(c => OutsideLine(index, book.FindOutsideWork(c)!)));
        if (FreightLine(index, input) is { } freight)
        {
            lines.Add(freight);
        }

        lines.AddRange(input.Extras.Lines.Select(ExtraLineOf));
        if (book.Minimum is { } minimum && input.Extras.FreeReason is null)
        {
            MinimumLine(index, minimum, lines);
        }

        return lines;
    }

    /// <summary>What a line comes to, as the totals round it; one over the largest amount where it is more, which the totals then refuse.</summary>
    internal static long NetOf(PriceBook book, DraftLine line) =>
        Money.Round(Math.Min(line.Quantity * line.UnitPriceMinor, TotalsRules.LargestMinor + 1m), book.Rounding);

    private static void KitLines(BookIndex index, Kit kit, List<DraftLine> lines)
    {
        var isSplit = kit.LabourPriceMinor > 0;
        lines.Add(
            Single(
                index,
                "kit",
                LineGroup.Kit,
                kit.Title + (isSplit ? ", material" : ""),
                kit.PriceMinor,
                kit.TaxCodes,
                kit.PartsCostMinor
            ) with
            {
                Rule = index.KitRules[kit.Code],
            }
        );
        if (isSplit)
        {
            lines.Add(
                Single(
                    index,
                    "kit:labour",
                    LineGroup.Kit,
                    kit.Title + ", work on it",
                    kit.LabourPriceMinor,
                    kit.LabourTaxCodes,
                    kit.LabourCostMinor
                ) with
                {
                    Rule = "Work on the kit before it meets a car, kept apart from its material for the taxes.",
                }
            );
        }
    }

    private static DraftLine DoorLine(BookIndex index, DoorChoice choice)
    {
        var hinge = index.Book.FindHinge(choice.HingeOptionCode)!;
        var side = choice.Door == DoorSide.Left ? "Left" : "Right";
        return Single(
            index,
            "door:" + side[..1],
            LineGroup.Doors,
            $"{side} door bar: {hinge.Title}",
            hinge.PriceMinor,
            hinge.TaxCodes,
            hinge.CostMinor
        ) with
        {
            Rule =
                "The hinge option chosen for this door at its price in the price book. Its labour stands under the phases.",
        };
    }

    private static DraftLine OutsideLine(BookIndex index, OutsideWork work) =>
        Single(
            index,
            "outside:" + work.Code,
            LineGroup.Outside,
            work.Title,
            work.PriceMinor,
            work.TaxCodes,
            work.CostMinor
        ) with
        {
            Rule = $"Work sent out, at its price in the price book; about {work.WaitDays} days until it is back.",
        };

    private static DraftLine? FreightLine(BookIndex index, PriceInput input)
    {
        var book = index.Book;
        var mass = FreightMass.Of(book, input);
        if (
            (input.Extras.FreightZoneCode ?? FreightMass.FittedZone(book, input)) is not { } code
            || book.Freight is not { } freight
            || freight.FindZone(code) is not { } zone
            || zone.BandFor(mass) is not { } band
        )
        {
            return null;
        }

        var line = Single(
            index,
            "freight",
            LineGroup.Freight,
            $"{freight.Title}, {zone.Title}",
            band.PriceMinor,
            freight.TaxCodes,
            band.CostMinor
        );
        return line with
        {
            Rule = "Carriage by mass and zone from the price book.",
            Inputs =
            [
                new("Mass", Figures.Plain(decimal.Round(mass, 1)) + " kg"),
                new("Zone", zone.Title),
                new("Band", $"up to {Figures.Plain(band.UpToKg)} kg"),
            ],
        };
    }

    private static DraftLine ExtraLineOf(ExtraLine line, int i) =>
        new(
            $"extra:{i + 1}",
            LineGroup.Extra,
            null,
            line.Description,
            line.Quantity,
            line.Unit,
            line.UnitPriceMinor,
            line.TaxCodes,
            "Agreed at the counter: quantity × unit price.",
            "Typed in with this quote",
            [new("Quantity", $"{Figures.Plain(line.Quantity)} {line.Unit}")],
            [],
            line.UnitCostMinor is { } cost ? line.Quantity * cost : null
        );

    private static void MinimumLine(BookIndex index, MinimumCharge minimum, List<DraftLine> lines)
    {
        var missing = minimum.PriceMinor - lines.Sum(l => NetOf(index.Book, l));
        if (missing > 0)
        {
            lines.Add(
                Single(
                    index,
                    "minimum",
                    LineGroup.Minimum,
                    "Up to the minimum charge",
                    missing,
                    minimum.TaxCodes,
                    0
                ) with
                {
                    Rule =
                        $"A sale comes to at least {Figures.Money(index.Book, minimum.PriceMinor)} before discount and tax; this line makes up the difference.",
                }
            );
        }
    }

    private static DraftLine Single(
        BookIndex index,
        string code,
        LineGroup group,
        string title,
        long priceMinor,
        IReadOnlyList<string> taxCodes,
        decimal? costMinor
    ) =>
        new(
            code,
            group,
            null,
            title,
            1,
            "piece",
            priceMinor,
            taxCodes,
            "One piece at its price in the price book.",
            index.Source,
            [new("Quantity", "1 piece"), new("Price", Figures.Money(index.Book, priceMinor))],
            [],
            costMinor
        );
}
