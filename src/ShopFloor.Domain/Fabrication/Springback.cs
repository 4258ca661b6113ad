namespace ShopFloor.Domain.Fabrication;

/// <summary>How far one die's tube springs back, as the shop has measured it: there is no formula worth trusting, so the table is the shop's own.</summary>
/// <param name="Measured">Bend angle after release and the angle that the bender was taken to, both in degrees, rising.</param>
public sealed record SpringbackTable(string Die, IReadOnlyList<SpringbackReading> Measured)
{
    /// <summary>The angle to take the bender to for a wanted angle: between two readings by proportion; outside them by the nearest reading's difference in proportion to the angle. The angle itself where nothing was measured.</summary>
    public double BendToDegrees(double wantedDegrees)
    {
        if (Measured.Count == 0)
        {
            return wantedDegrees;
        }

        var after = Measured.FirstOrDefault(r => r.ReleasedDegrees >= wantedDegrees);
        var before = Measured.LastOrDefault(r => r.ReleasedDegrees <= wantedDegrees);
        return (before, after) switch
        {
            ({ } b, { } a) when b == a => b.BentDegrees,
            ({ } b, { } a) => b.BentDegrees
                + (
                    (a.BentDegrees - b.BentDegrees)
                    * (wantedDegrees - b.ReleasedDegrees)
                    / (a.ReleasedDegrees - b.ReleasedDegrees)
                ),
            (null, { } a) => wantedDegrees * a.BentDegrees / a.ReleasedDegrees,
            ({ } b, _) => wantedDegrees * b.BentDegrees / b.ReleasedDegrees,
            _ => wantedDegrees,
        };
    }
}

/// <summary>One trial bend.</summary>
/// <param name="ReleasedDegrees">Measured after the tube was let go; over 0.</param>
/// <param name="BentDegrees">What the bender stood at; at least as much.</param>
public sealed record SpringbackReading(double ReleasedDegrees, double BentDegrees);
