using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>What a person typed last at one calculator, so that it is there again at the next device.</summary>
public sealed class BenchMemory
{
    private BenchMemory() { }

    public PersonId Person { get; private set; }
    public string Calculator { get; private set; } = "";

    /// <summary>The fields as an address carries them.</summary>
    public string Typed { get; private set; } = "";
    public DateTimeOffset At { get; private set; }

    public static BenchMemory Of(PersonId person, string calculator) =>
        new() { Person = person, Calculator = calculator };

    public void Keep(string typed, DateTimeOffset at) => (Typed, At) = (typed, at);
}
