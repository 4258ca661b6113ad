using System.Globalization;

namespace ShopFloor.Domain.Stock;

/// <summary>How stock is said.</summary>
public static class StockWords
{
    public static string Title(this StockKind kind) =>
        kind switch
        {
            StockKind.Tube => "Tube",
            StockKind.Plate => "Plate",
            StockKind.Hinge => "Hinge set",
            StockKind.Kit => "Kit",
            StockKind.Hardware => "Hardware",
            StockKind.Consumable => "Consumable",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of stock."),
        };

    public static string Unit(this StockMeasure measure) =>
        measure switch
        {
            StockMeasure.Piece => "pcs",
            StockMeasure.Kilogram => "kg",
            StockMeasure.Litre => "l",
            StockMeasure.SquareMetre => "m²",
            StockMeasure.Metre => "m",
            _ => throw new ArgumentOutOfRangeException(nameof(measure), measure, "Unknown measure."),
        };

    public static string Title(this StockMove move) =>
        move switch
        {
            StockMove.Received => "received",
            StockMove.Found => "written down as found",
            StockMove.Offcut => "left over from sawing",
            StockMove.Used => "used",
            StockMove.BackFromJob => "back from a job",
            StockMove.Sawn => "sawn",
            StockMove.Counted => "counted",
            StockMove.Moved => "put elsewhere",
            StockMove.ToSupplier => "sent back",
            StockMove.Scrapped => "scrapped",
            _ => throw new ArgumentOutOfRangeException(nameof(move), move, "Unknown movement."),
        };

    /// <summary>A number without needless zeros.</summary>
    public static string Count(decimal value) => value.ToString("#,0.###", CultureInfo.InvariantCulture);
}
