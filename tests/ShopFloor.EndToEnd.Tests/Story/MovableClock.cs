namespace ShopFloor.EndToEnd.Tests.Story;

/// <summary>The system's clock, which a story may move forward: paint cures over night, but no test sleeps.</summary>
public sealed class MovableClock : TimeProvider
{
    private long ticksAhead;

    public override DateTimeOffset GetUtcNow() => System.GetUtcNow().AddTicks(Interlocked.Read(ref ticksAhead));

    public void Advance(TimeSpan by) => Interlocked.Add(ref ticksAhead, by.Ticks);
}
