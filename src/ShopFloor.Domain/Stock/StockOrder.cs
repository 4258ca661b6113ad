using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Stock;

/// <summary>How far an order is.</summary>
public enum StockOrderState
{
    Open,

    /// <summary>Some of it is here.</summary>
    PartlyHere,

    /// <summary>All of it is here, or nothing more is awaited.</summary>
    Closed,
}

/// <summary>One line of an order.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Pieces">Sticks of tube, else units of the item's measure.</param>
/// <param name="LengthMm">Of a stick; null for all else.</param>
/// <param name="UnitCostMinor">For one piece or unit, without tax.</param>
/// <param name="Received">What has come so far.</param>
public sealed record StockOrderLine(
    int Number,
    StockItemId ItemId,
    string Code,
    string Title,
    decimal Pieces,
    decimal? LengthMm,
    long UnitCostMinor,
    decimal Received
)
{
    public decimal Awaited => Math.Max(0, Pieces - Received);

    /// <summary>mm of tube, else units.</summary>
    public decimal AwaitedAmount => Awaited * (LengthMm ?? 1);
}

/// <summary>An order to a supplier. It arrives in one go or in parts; what never comes is closed with a reason.</summary>
public sealed class StockOrder : IVersioned
{
    public const int MostLines = 200;
    public const int MostDaysAhead = 730;

    private StockOrder() { }

    public StockOrderId Id { get; private set; }
    public long Version { get; private set; }
    public string Number { get; private set; } = "";
    public SupplierId SupplierId { get; private set; }
    public IReadOnlyList<StockOrderLine> Lines { get; private set; } = [];
    public DateOnly OrderedOn { get; private set; }

    /// <summary>The local day on which it should come; null: not said.</summary>
    public DateOnly? ExpectedOn { get; private set; }
    public string? Note { get; private set; }
    public PersonId? OrderedBy { get; private set; }
    public StockOrderState State { get; private set; }

    /// <summary>Why the rest is not awaited any more.</summary>
    public string? CloseReason { get; private set; }
    public DateTimeOffset? ClosedAt { get; private set; }

    public bool IsOpen => State != StockOrderState.Closed;

    /// <summary>A line as typed.</summary>
    /// <param name="Pieces">Sticks or units, over 0.</param>
    /// <param name="UnitCostMinor">Absent: what it last cost.</param>
    public sealed record LineDetails(
        Guid? ItemId,
        decimal? Pieces,
        decimal? LengthMm = null,
        long? UnitCostMinor = null
    );

    public static Outcome<StockOrder> Place(
        StockOrderId id,
        string number,
        Supplier supplier,
        IReadOnlyList<LineDetails> lines,
        IReadOnlyDictionary<StockItemId, StockItem> items,
        DateOnly? expectedOn,
        string? note,
        PersonId? by,
        DateOnly today
    )
    {
        ArgumentNullException.ThrowIfNull(supplier);
        ArgumentNullException.ThrowIfNull(lines);
        var errors = new FieldErrors();
        var text = TextRules.Optional(note, "note", "The note", TextRules.Note, errors);
        errors
            .AddIf(lines.Count == 0, "lines", "Say what is ordered: at least one line.")
            .AddIf(lines.Count > MostLines, "lines", $"An order has at most {MostLines} lines.")
            .AddIf(supplier.IsRetired, "supplierId", $"Nothing is bought at {supplier.Name} any more.")
            .AddIf(
                expectedOn < today || expectedOn > today.AddDays(MostDaysAhead),
                "expectedOn",
                "The day of delivery is today or within two years."
            );
        var read = new List<StockOrderLine>();
        for (var i = 0; i < lines.Count && i < MostLines; i++)
        {
            if (ReadLine(lines[i], i, items, errors) is { } line)
            {
                read.Add(line);
            }
        }

        return errors.Any
            ? errors.ToFailure()
            : new StockOrder
            {
                Id = id,
                Number = number,
                SupplierId = supplier.Id,
                Lines = read,
                OrderedOn = today,
                ExpectedOn = expectedOn ?? (supplier.LeadDays is { } days ? today.AddDays(days) : null),
                Note = text,
                OrderedBy = by,
            };
    }

    /// <summary>Some or all of a line has come.</summary>
    /// <returns>The line, and what was paid for these pieces.</returns>
    public Outcome<(StockOrderLine Line, long ValueMinor)> Receive(int number, decimal? pieces, DateTimeOffset at)
    {
        if (!IsOpen)
        {
            return Failure.Because(
                "orderClosed",
                $"{Number} is closed. What comes after all is written down as found."
            );
        }

        if (Lines.FirstOrDefault(l => l.Number == number) is not { } line)
        {
            return Failure.Field("line", $"{Number} has no line {number}.");
        }

        if (pieces is not > 0 || pieces > line.Awaited)
        {
            return Failure.Field(
                "pieces",
                line.Awaited == 0
                    ? $"All of line {number} is here already."
                    : $"Between 0 and {StockWords.Count(line.Awaited)} of line {number} are awaited. What came beyond the order is written down as found."
            );
        }

        var value = (decimal)line.UnitCostMinor * pieces.Value;
        if (value > TotalsRules.LargestMinor)
        {
            return Failure.Field("pieces", "The cost is larger than can be added up; check the figures.");
        }

        Lines = [.. Lines.Select(l => l.Number == number ? l with { Received = l.Received + pieces.Value } : l)];
        State = Lines.All(l => l.Awaited == 0) ? StockOrderState.Closed : StockOrderState.PartlyHere;
        ClosedAt = State == StockOrderState.Closed ? at : null;
        return (line, Money.Round(value, MoneyRounding.HalfEven));
    }

    /// <summary>The rest is not awaited any more.</summary>
    public Outcome<Done> Close(string? reason, DateTimeOffset at)
    {
        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (!IsOpen)
        {
            return Failure.Because("orderClosed", $"{Number} is closed already.");
        }

        (State, CloseReason, ClosedAt) = (StockOrderState.Closed, why, at);
        return Outcome.Ok;
    }

    /// <summary>Another day of delivery.</summary>
    public Outcome<Done> Expect(DateOnly? day, DateOnly today)
    {
        if (!IsOpen)
        {
            return Failure.Because("orderClosed", $"{Number} is closed already.");
        }

        if (day is null || day < today || day > today.AddDays(MostDaysAhead))
        {
            return Failure.Field("expectedOn", "The day of delivery is today or within two years.");
        }

        ExpectedOn = day;
        return Outcome.Ok;
    }

    private static StockOrderLine? ReadLine(
        LineDetails line,
        int index,
        IReadOnlyDictionary<StockItemId, StockItem> items,
        FieldErrors errors
    )
    {
        var path = $"lines[{index}]";
        if (line.ItemId is not { } id || !items.TryGetValue(StockItemId.From(id), out var item) || item.IsRetired)
        {
            errors.Add(path + ".itemId", "Choose something that the shop keeps in store.");
            return null;
        }

        var decimals = item.Measure == StockMeasure.Piece ? 0 : 3;
        errors.AddIf(
            line.Pieces is not (> 0 and <= 1_000_000) || decimal.Round(line.Pieces.Value, decimals) != line.Pieces,
            path + ".pieces",
            decimals == 0 ? "How many is over 0 and whole." : "How much is over 0, with at most three decimals."
        );
        errors.AddIf(
            item.IsTube
                && line.LengthMm is { } length
                && (length is not (> 0 and <= StockItem.LongestStickMm) || decimal.Round(length, 3) != length),
            path + ".lengthMm",
            "A stick is over 0 and at most 20 m long."
        );
        var cost = line.UnitCostMinor ?? item.LastCostMinor;
        errors.AddIf(cost is null, path + ".unitCostMinor", $"Say what one of {item.Code} costs, without tax.");
        TotalsRules.CheckAmount(cost ?? 0, path + ".unitCostMinor", "The cost", errors);
        return new StockOrderLine(
            index + 1,
            item.Id,
            item.Code,
            item.Title,
            line.Pieces ?? 0,
            item.IsTube ? line.LengthMm ?? item.StickMm : null,
            cost ?? 0,
            0
        );
    }
}
