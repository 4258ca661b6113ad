namespace ShopFloor.Domain.Throughput;

/// <summary>A car's coming and going.</summary>
/// <param name="InAt">Brought in, or first worked on where no drop-off was recorded before; null while it has not come.</param>
/// <param name="FinishedAt">Of the standing sign-off.</param>
/// <param name="LeftAt">Handed over or cancelled.</param>
public readonly record struct CarStay(DateTimeOffset? InAt, DateTimeOffset? FinishedAt, DateTimeOffset? LeftAt)
{
    /// <summary>No longer work in hand: finished, or gone without it.</summary>
    public DateTimeOffset? EndAt => FinishedAt is { } f && LeftAt is { } l && l < f ? l : FinishedAt ?? LeftAt;

    /// <summary>In hand at an instant.</summary>
    public bool IsInHand(DateTimeOffset at) => InAt < at && !(EndAt <= at);
}
