namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>The screens that pages are made for, in CSS pixels.</summary>
public sealed record Device(string Name, int Width, int Height, bool HasTouch)
{
    public static readonly Device Phone = new("phone", 390, 844, true);
    public static readonly Device Tablet = new("tablet", 820, 1180, true);
    public static readonly Device Desk = new("desk", 1440, 900, false);

    public static IReadOnlyList<Device> All { get; } = [Phone, Tablet, Desk];
}
