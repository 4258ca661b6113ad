namespace ShopFloor.Domain.HotWork;

/// <summary>Places of the shop as routes name them, e.g. <c>bay</c>.</summary>
public static class HotPlace
{
    /// <summary>The places of the shipped routes in which sparks may fly.</summary>
    public static IReadOnlyList<string> Usual { get; } = ["bay", "bench", "paint"];

    /// <summary>True where a car may stand there. A place that the program does not know is taken for one: the careful side.</summary>
    public static bool HoldsCar(string place) => place is not ("bench" or "office");

    /// <summary>Reads after "in": "the bay".</summary>
    public static string Title(string place) =>
        place.StartsWith("the ", StringComparison.Ordinal) ? place : $"the {place}";
}
