namespace ShopFloor.Domain.Common;

/// <summary>An aggregate that two people may edit: its version goes up by one with every saved change, and a change made on an older version is refused.</summary>
public interface IVersioned
{
    /// <summary>0 before it was first saved. Only the data layer raises it.</summary>
    long Version { get; }
}
