namespace ShopFloor.Domain.Inspection;

/// <summary>Which kind of instrument a line's "how measured" names. A plan says it in words; the first kind it names is the one that is read.</summary>
public static class InstrumentWords
{
    private static readonly (string Word, InstrumentKind Kind)[] Named =
    [
        ("caliper", InstrumentKind.Caliper),
        ("tape", InstrumentKind.Tape),
        ("feeler", InstrumentKind.FeelerGauge),
        ("angle gauge", InstrumentKind.AngleGauge),
        ("level", InstrumentKind.Level),
        ("ultrasonic", InstrumentKind.Thickness),
        ("thickness gauge", InstrumentKind.Thickness),
        ("torque wrench", InstrumentKind.Torque),
    ];

    /// <summary>Null where it names none: by eye, length times width.</summary>
    public static InstrumentKind? NamedIn(string how)
    {
        ArgumentNullException.ThrowIfNull(how);
        var found = Named
            .Select(n => (At: how.IndexOf(n.Word, StringComparison.OrdinalIgnoreCase), n.Kind))
            .Where(n => n.At >= 0)
            .ToList();
        return found.Count == 0 ? null : found.MinBy(n => n.At).Kind;
    }

    public static string Title(this InstrumentKind kind) =>
        kind switch
        {
            InstrumentKind.Caliper => "Caliper",
            InstrumentKind.Tape => "Tape",
            InstrumentKind.FeelerGauge => "Feeler gauge",
            InstrumentKind.AngleGauge => "Angle gauge",
            InstrumentKind.Level => "Level",
            InstrumentKind.Thickness => "Thickness gauge",
            InstrumentKind.Torque => "Torque wrench",
            _ => "Other",
        };
}
