using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Stock;

/// <summary>How much of an item is set aside for a job. What the job takes lessens it; a job that has ended sets nothing aside any more.</summary>
public sealed class StockReservation : IVersioned
{
    private StockReservation() { }

    public JobId JobId { get; private set; }
    public long Version { get; private set; }
    public StockItemId ItemId { get; private set; }

    /// <summary>mm of tube, else units of the item's measure; over 0.</summary>
    public decimal Amount { get; private set; }
    public PersonId? By { get; private set; }
    public DateTimeOffset At { get; private set; }

    public static StockReservation Of(JobId job, StockItemId item) => new() { JobId = job, ItemId = item };

    /// <summary>Sets aside so much in all; 0 lets go of it.</summary>
    public Outcome<Done> Set(decimal? amount, PersonId? by, DateTimeOffset at)
    {
        var errors = new FieldErrors();
        errors.AddIf(amount is null, "amount", "Say how much is set aside; 0 for nothing.");
        StockItem.Amount(amount, "amount", "What is set aside", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Amount, By, At) = (amount!.Value, by, at);
        return Outcome.Ok;
    }

    /// <summary>The job took so much of it.</summary>
    public void Taken(decimal amount) => Amount = Math.Max(0, Amount - amount);
}
