using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Stock;

/// <summary>
/// Things of one item that came together, lie together and cost the same: of tube also of one heat and one length. It carries a label of its own. What it
/// cost goes out with it: purchase cost follows the very lot that was used (specific identification, IAS 2 paragraph 23, from memory), so a lot's
/// value is the money that was paid for what is left of it.
/// </summary>
public sealed class StockLot : IVersioned
{
    public const int LongestLocation = TextRules.Code;

    private readonly List<StockMovement> fresh = [];

    private StockLot() { }

    public StockLotId Id { get; private set; }
    public long Version { get; private set; }
    public StockItemId ItemId { get; private set; }

    /// <summary>On its label; one series for the shop.</summary>
    public string Number { get; private set; } = "";

    /// <summary>Pieces of tube, else units of the item's measure; never below 0.</summary>
    public decimal Pieces { get; private set; }

    /// <summary>Of each piece of tube, in mm; null for all else.</summary>
    public decimal? LengthMm { get; private set; }

    /// <summary>Heat or lot number as stamped; null where it is missing.</summary>
    public string? Mark { get; private set; }
    public string Location { get; private set; } = "";

    /// <summary>What was paid for what is left.</summary>
    public long ValueMinor { get; private set; }

    /// <summary>Nothing is left of it; its history stays.</summary>
    public bool IsEmpty { get; private set; }

    /// <summary>Left over from sawing.</summary>
    public bool IsOffcut { get; private set; }

    /// <summary>The lot it was sawn or parted from; null where it came in as it is.</summary>
    public StockLotId? FromLotId { get; private set; }
    public SupplierId? SupplierId { get; private set; }
    public DateTimeOffset Since { get; private set; }

    /// <summary>Lines of its history so far.</summary>
    public int Movements { get; private set; }
    public DateTimeOffset? CountedAt { get; private set; }

    /// <summary>mm of tube, else units of the measure.</summary>
    public decimal Amount => Pieces * (LengthMm ?? 1);

    /// <summary>Where something new comes from.</summary>
    /// <param name="Pieces">Over 0; whole where pieces are counted.</param>
    /// <param name="LengthMm">Tube only; absent: a stick as the item says.</param>
    /// <param name="ValueMinor">What was paid for all of it, without tax.</param>
    public sealed record Details(
        decimal? Pieces,
        decimal? LengthMm = null,
        string? Mark = null,
        string? Location = null,
        long? ValueMinor = null
    );

    /// <summary>Something new lies in the store.</summary>
    public static Outcome<StockLot> Open(
        StockLotId id,
        string number,
        StockItem item,
        Details details,
        StockMove move,
        SupplierId? supplier,
        StockHand hand,
        StockCause cause
    )
    {
        ArgumentNullException.ThrowIfNull(item);
        ArgumentNullException.ThrowIfNull(details);
        if (item.IsRetired)
        {
            return Failure.Because("retired", $"{item.Code} is no longer kept. Put it back on the lists first.");
        }

        var errors = new FieldErrors();
        CheckPieces(item, details.Pieces, errors);
        var length = item.IsTube ? details.LengthMm ?? item.StickMm : null;
        errors.AddIf(
            item.IsTube
                && (length is not (> 0 and <= StockItem.LongestStickMm) || decimal.Round(length.Value, 3) != length),
            "lengthMm",
            "A piece of tube is over 0 and at most 20 m long, to a thousandth of a millimetre."
        );
        errors.AddIf(
            !item.IsTube && details.LengthMm is not null,
            "lengthMm",
            $"{item.Code} is no tube: it has no length."
        );
        var mark = TextRules.Optional(details.Mark, "mark", "The heat or lot number", TextRules.Code, errors);
        var location = TextRules.Required(
            details.Location ?? item.Location,
            "location",
            "The place where it lies",
            LongestLocation,
            errors
        );
        TotalsRules.CheckAmount(details.ValueMinor ?? 0, "valueMinor", "The cost", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var lot = new StockLot
        {
            Id = id,
            ItemId = item.Id,
            Number = number,
            LengthMm = length,
            Mark = mark,
            Location = location,
            SupplierId = supplier,
            Since = hand.At,
        };
        lot.Put(move, details.Pieces!.Value, details.ValueMinor ?? 0, hand, cause);
        return lot;
    }

    /// <summary>What was left of a bar after sawing: of the same heat, with its share of the cost.</summary>
    public StockLot Offcut(
        StockLotId id,
        string number,
        decimal lengthMm,
        string location,
        long valueMinor,
        StockHand hand,
        SawPlanId plan
    )
    {
        var lot = Twin(id, number, location, hand);
        (lot.LengthMm, lot.IsOffcut) = (lengthMm, true);
        lot.Put(StockMove.Offcut, 1, valueMinor, hand, new StockCause($"Left of {Number}", SawPlan: plan));
        return lot;
    }

    /// <summary>Takes some of it out.</summary>
    /// <param name="held">Pieces that are held for sawing and not to be taken.</param>
    /// <returns>What it was worth.</returns>
    public Outcome<long> Take(
        decimal? pieces,
        StockItem item,
        decimal held,
        StockMove move,
        StockHand hand,
        StockCause cause
    )
    {
        ArgumentNullException.ThrowIfNull(item);
        var errors = new FieldErrors();
        CheckPieces(item, pieces, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (pieces > Pieces)
        {
            return Failure.Because(
                "notThere",
                $"By the book {StockWords.Count(Pieces)} of {Number} are there, not {StockWords.Count(pieces!.Value)}. If more lie on the shelf, count them first: the correction is written down and nothing falls below zero."
            );
        }

        if (pieces > Pieces - held)
        {
            return Failure.Because(
                "held",
                $"{StockWords.Count(held)} of {Number} are held for a saw card. Take another lot, or discard that card first."
            );
        }

        return TakeOut(move, pieces!.Value, hand, cause);
    }

    /// <summary>A whole bar goes under the saw.</summary>
    internal long Saw(StockHand hand, SawPlanId plan) =>
        TakeOut(StockMove.Sawn, 1, hand, new StockCause(SawPlan: plan));

    /// <summary>Some of what a job took comes back into this lot.</summary>
    /// <param name="taken">What of this lot is in the job: amount and value.</param>
    /// <returns>What it is worth, by what the job paid for it.</returns>
    public Outcome<long> PutBack(
        decimal? pieces,
        StockItem item,
        (decimal Amount, long ValueMinor) taken,
        StockHand hand,
        StockCause cause
    )
    {
        ArgumentNullException.ThrowIfNull(item);
        var errors = new FieldErrors();
        CheckPieces(item, pieces, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var amount = item.AmountOf(pieces!.Value, LengthMm);
        if (amount > taken.Amount)
        {
            return Failure.Because(
                "notTaken",
                $"The job did not take so much of {Number}. What it never took is found stock: count it in."
            );
        }

        var value = Share(taken.ValueMinor, amount, taken.Amount);
        Put(StockMove.BackFromJob, pieces.Value, value, hand, cause);
        return value;
    }

    /// <summary>Somebody counted what lies there. A difference is a correction and asks for its reason; a count that was right is written down too. What is found beyond the book is worth what the rest cost, in an empty lot what the item last cost.</summary>
    public Outcome<decimal> Count(decimal? counted, StockItem item, string? reason, StockHand hand)
    {
        ArgumentNullException.ThrowIfNull(item);
        var errors = new FieldErrors();
        errors.AddIf(
            counted is null or < 0 || (counted > 0 && !IsCountable(item, counted)),
            "counted",
            CountSentence(item, "What was counted is 0 or more")
        );
        var difference = (counted ?? 0) - Pieces;
        var why = TextRules.Optional(reason, "reason", "The reason", TextRules.ShortText, errors);
        errors.AddIf(
            !errors.Any && difference != 0 && why is null,
            "reason",
            $"The book says {StockWords.Count(Pieces)}. Say why it is different: used without a note, lost, miscounted."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        CountedAt = hand.At;
        if (difference < 0)
        {
            TakeOut(StockMove.Counted, -difference, hand, new StockCause(why));
        }
        else
        {
            var unit = Pieces > 0 ? ValueMinor / Pieces : item.UnitCostMinor(LengthMm);
            Put(
                StockMove.Counted,
                difference,
                Money.Round(unit * difference, MoneyRounding.HalfEven),
                hand,
                new StockCause(why)
            );
        }

        return difference;
    }

    /// <summary>Puts all of it elsewhere.</summary>
    public Outcome<Done> MoveTo(string? location, StockHand hand)
    {
        var errors = new FieldErrors();
        var place = TextRules.Required(location, "location", "The new place", LongestLocation, errors);
        errors.AddIf(place == Location, "location", $"It lies at {Location} already.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var from = Location;
        Location = place;
        Put(StockMove.Moved, 0, 0, hand, new StockCause($"From {from}"));
        return Outcome.Ok;
    }

    /// <summary>Puts a part of it elsewhere: it becomes a lot with a label of its own.</summary>
    public Outcome<StockLot> Part(
        StockLotId id,
        string number,
        decimal? pieces,
        StockItem item,
        decimal held,
        string? location,
        StockHand hand
    )
    {
        var errors = new FieldErrors();
        var place = TextRules.Required(location, "location", "The new place", LongestLocation, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        return Take(pieces, item, held, StockMove.Moved, hand, new StockCause($"To {place} as {number}"))
            .Then<StockLot>(value =>
            {
                var lot = Twin(id, number, place, hand);
                (lot.LengthMm, lot.IsOffcut) = (LengthMm, IsOffcut);
                lot.Put(StockMove.Moved, pieces!.Value, value, hand, new StockCause($"From {Number}"));
                return lot;
            });
    }

    /// <summary>What in this lot is not as its history says; empty where all is.</summary>
    public IEnumerable<string> Audit(IReadOnlyList<StockMovement> history)
    {
        ArgumentNullException.ThrowIfNull(history);
        var inOrder = history.OrderBy(m => m.Number).ToList();
        if (!inOrder.Select(m => m.Number).SequenceEqual(Enumerable.Range(1, Movements)))
        {
            yield return "its history is not numbered one after the other.";
        }

        if (inOrder.Sum(m => m.Pieces) != Pieces || IsEmpty != (Pieces == 0))
        {
            yield return $"it holds {StockWords.Count(Pieces)}, and its history adds up to {StockWords.Count(inOrder.Sum(m => m.Pieces))}.";
        }

        if (inOrder.Sum(m => m.ValueMinor) != ValueMinor)
        {
            yield return "its value is not what its history adds up to.";
        }

        var running = 0m;
        foreach (var movement in inOrder)
        {
            running += movement.Pieces;
            if (running < 0 || running != movement.PiecesAfter)
            {
                yield return $"line {movement.Number} of its history leaves {StockWords.Count(movement.PiecesAfter)}, and the lines before it {StockWords.Count(running)}.";
            }
        }
    }

    /// <summary>The lines of history made since it was loaded; each is handed out once.</summary>
    public IReadOnlyList<StockMovement> DrainMovements()
    {
        StockMovement[] all = [.. fresh];
        fresh.Clear();
        return all;
    }

    /// <summary>Part of a value that goes with part of an amount; all of it with all.</summary>
    internal static long Share(long valueMinor, decimal part, decimal whole) =>
        part == whole ? valueMinor : Money.Round(valueMinor * part / whole, MoneyRounding.HalfEven);

    private StockLot Twin(StockLotId id, string number, string location, StockHand hand) =>
        new()
        {
            Id = id,
            ItemId = ItemId,
            Number = number,
            Mark = Mark,
            Location = location,
            FromLotId = Id,
            SupplierId = SupplierId,
            Since = hand.At,
        };

    private long TakeOut(StockMove move, decimal pieces, StockHand hand, StockCause cause)
    {
        var value = Share(ValueMinor, pieces, Pieces);
        Put(move, -pieces, -value, hand, cause);
        return value;
    }

    private void Put(StockMove move, decimal pieces, long valueMinor, StockHand hand, StockCause cause)
    {
        if (Pieces + pieces < 0)
        {
            throw new InvalidOperationException("Stock never falls below zero.");
        }

        Pieces += pieces;
        ValueMinor += valueMinor;
        IsEmpty = Pieces == 0;
        fresh.Add(StockMovement.Of(this, ++Movements, move, pieces, valueMinor, hand, cause));
    }

    private static void CheckPieces(StockItem item, decimal? pieces, FieldErrors errors) =>
        errors.AddIf(!IsCountable(item, pieces), "pieces", CountSentence(item, "The number is over 0"));

    private static bool IsCountable(StockItem item, decimal? pieces) =>
        pieces is > 0 and <= StockItem.LargestAmount
        && decimal.Round(pieces.Value, item.Measure == StockMeasure.Piece ? 0 : 3) == pieces;

    private static string CountSentence(StockItem item, string start) =>
        item.Measure == StockMeasure.Piece
            ? $"{start} and whole: pieces are counted."
            : $"{start}, with at most three decimals.";
}
