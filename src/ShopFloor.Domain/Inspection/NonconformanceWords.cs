namespace ShopFloor.Domain.Inspection;

/// <summary>How faults are said on screens and papers.</summary>
public static class NonconformanceWords
{
    public static string Of(FaultCause cause) =>
        cause switch
        {
            FaultCause.FitUp => "fit-up",
            FaultCause.CustomerPart => "customer's part",
            _ => cause.ToString().ToLowerInvariant(),
        };

    public static string Of(Disposition disposition) =>
        disposition switch
        {
            Disposition.Rework => "Rework",
            Disposition.Accept => "Accepted as it is",
            _ => "Rejected",
        };

    /// <summary>What became of it, in a sentence.</summary>
    /// <param name="closing">The reading that closed it, where one did.</param>
    public static string Done(Nonconformance fault, Reading? closing)
    {
        ArgumentNullException.ThrowIfNull(fault);
        var decided = fault.Disposition switch
        {
            Disposition.Rework => $"Rework in operation {string.Join(", ", fault.Reworks)}: {fault.Reason}",
            Disposition.Accept => $"Accepted as it is by the owner: {fault.Reason}",
            Disposition.Reject => $"Rejected: {fault.Reason}",
            _ when fault.WasMistyped => "The reading was mistyped and corrected",
            _ => fault.IsOpen ? "Not decided yet" : "Mended at once and read again",
        };
        return closing?.Note is { } note && !fault.WasMistyped ? $"{decided}; {note}" : decided;
    }
}
