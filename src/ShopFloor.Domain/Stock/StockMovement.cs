using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Stock;

/// <summary>Why what lies in a lot became more or less.</summary>
public enum StockMove
{
    /// <summary>It came from a supplier.</summary>
    Received,

    /// <summary>It lay in the store before anybody wrote it down.</summary>
    Found,

    /// <summary>It was left over from sawing.</summary>
    Offcut,

    /// <summary>It went into a job.</summary>
    Used,

    /// <summary>It came back from a job.</summary>
    BackFromJob,

    /// <summary>It was sawn into pieces and offcuts.</summary>
    Sawn,

    /// <summary>It was counted; the difference is a correction.</summary>
    Counted,

    /// <summary>It was put elsewhere.</summary>
    Moved,

    /// <summary>It was sent back to the supplier.</summary>
    ToSupplier,

    /// <summary>It was thrown away.</summary>
    Scrapped,
}

/// <summary>Who did something in the store, and when.</summary>
/// <param name="At">By the device.</param>
public readonly record struct StockHand(PersonId? Person, DateTimeOffset At, DateTimeOffset RecordedAt);

/// <summary>One line of a lot's history. Never changed: the sum of a lot's lines is what lies in it, in pieces and in money.</summary>
public sealed class StockMovement
{
    private StockMovement() { }

    public StockMovementId Id { get; private set; }
    public StockLotId LotId { get; private set; }
    public StockItemId ItemId { get; private set; }

    /// <summary>1, 2, 3 … in its lot.</summary>
    public int Number { get; private set; }
    public StockMove Move { get; private set; }

    /// <summary>More or less pieces, or units of the item's measure; 0 for a count that was right, or a new place.</summary>
    public decimal Pieces { get; private set; }

    /// <summary>What lay in the lot afterwards.</summary>
    public decimal PiecesAfter { get; private set; }

    /// <summary>What the movement was worth at purchase cost.</summary>
    public long ValueMinor { get; private set; }

    /// <summary>The place afterwards.</summary>
    public string Location { get; private set; } = "";
    public JobId? JobId { get; private set; }
    public StockOrderId? OrderId { get; private set; }
    public SawPlanId? SawPlanId { get; private set; }
    public string? Reason { get; private set; }
    public PersonId? By { get; private set; }
    public DateTimeOffset At { get; private set; }
    public DateTimeOffset RecordedAt { get; private set; }

    internal static StockMovement Of(
        StockLot lot,
        int number,
        StockMove move,
        decimal pieces,
        long valueMinor,
        StockHand hand,
        StockCause cause
    ) =>
        new()
        {
            Id = Ids.New<StockMovementId>(hand.RecordedAt),
            LotId = lot.Id,
            ItemId = lot.ItemId,
            Number = number,
            Move = move,
            Pieces = pieces,
            PiecesAfter = lot.Pieces,
            ValueMinor = valueMinor,
            Location = lot.Location,
            JobId = cause.Job,
            OrderId = cause.Order,
            SawPlanId = cause.SawPlan,
            Reason = cause.Reason,
            By = hand.Person,
            At = hand.At,
            RecordedAt = hand.RecordedAt,
        };
}

/// <summary>What a movement belongs to.</summary>
public readonly record struct StockCause(
    string? Reason = null,
    JobId? Job = null,
    StockOrderId? Order = null,
    SawPlanId? SawPlan = null
);

/// <summary>What of the store went into a job, at purchase cost; negative where it came back. Never changed.</summary>
public sealed class JobStock
{
    private JobStock() { }

    public JobStockId Id { get; private set; }
    public JobId JobId { get; private set; }
    public StockItemId ItemId { get; private set; }
    public StockLotId LotId { get; private set; }

    /// <summary>mm of tube, else units of the item's measure.</summary>
    public decimal Amount { get; private set; }
    public long ValueMinor { get; private set; }

    /// <summary>The pieces, where it was sawn: "Main hoop leg, Door bar".</summary>
    public string? What { get; private set; }
    public DateTimeOffset At { get; private set; }
    public PersonId? By { get; private set; }

    public static JobStock Of(JobId job, StockLot lot, decimal amount, long valueMinor, string? what, StockHand hand)
    {
        ArgumentNullException.ThrowIfNull(lot);
        return new()
        {
            Id = Ids.New<JobStockId>(hand.RecordedAt),
            JobId = job,
            ItemId = lot.ItemId,
            LotId = lot.Id,
            Amount = amount,
            ValueMinor = valueMinor,
            What = what,
            At = hand.At,
            By = hand.Person,
        };
    }
}
