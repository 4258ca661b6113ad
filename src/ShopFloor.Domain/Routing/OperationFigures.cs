namespace ShopFloor.Domain.Routing;

/// <summary>Calculators whose figures are wanted at an operation; the codes are those of the calculators' own addresses.</summary>
public static class OperationFigures
{
    /// <summary>Code to what the figures are for.</summary>
    public static IReadOnlyDictionary<string, string> All { get; } =
        new SortedDictionary<string, string>(StringComparer.Ordinal)
        {
            ["bend"] = "Bend: arc, setback and marks",
            ["heat-input"] = "Heat input of a weld",
            ["hinge-cut"] = "Where the door bar is cut for its hinges",
            ["nest"] = "Cutting pieces from sticks",
            ["notch"] = "Notch template for a tube end",
            ["round-tube"] = "Section and mass of a tube",
            ["tube-path"] = "Cut length and bend marks of a bent tube",
        };
}
