namespace ShopFloor.Domain.Common;

/// <summary>The eight phases of a job, in the order in which a car passes through them.</summary>
public enum Phase
{
    Intake,
    TrimOut,
    SeamPrep,
    PlateFit,
    MockUp,
    OffCarPaint,
    FinalWeld,
    SignOff,
}

public static class Phases
{
    /// <summary>The phase's name as people read it.</summary>
    public static string Title(this Phase phase) =>
        phase switch
        {
            Phase.Intake => "Intake",
            Phase.TrimOut => "Trim-out",
            Phase.SeamPrep => "Seam prep",
            Phase.PlateFit => "Plate fit",
            Phase.MockUp => "Mock-up",
            Phase.OffCarPaint => "Off-car paint",
            Phase.FinalWeld => "Final weld",
            Phase.SignOff => "Sign-off",
            _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "Unknown phase."),
        };
}
