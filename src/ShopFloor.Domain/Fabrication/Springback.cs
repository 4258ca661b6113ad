using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

/// <summary>How far one die's tube springs back, as the shop has measured it: there is no formula worth trusting, so the table is the shop's own.</summary>
/// <param name="Measured">Bend angle after release and the angle that the bender was taken to, both in degrees, rising.</param>
public sealed record SpringbackTable(string Die, IReadOnlyList<SpringbackReading> Measured)
{
    public const int MostTrials = 40;

    /// <summary>A bender is not taken further than this for a bend of under 180 degrees.</summary>
    public const double FarthestDegrees = 200;

    /// <summary>A table of trials in any order, or what is wrong with them, by <c>trials[i]</c>.</summary>
    public static Outcome<SpringbackTable> Of(string die, IReadOnlyList<SpringbackReading> trials)
    {
        ArgumentNullException.ThrowIfNull(trials);
        var errors = new FieldErrors();
        errors.AddIf(trials.Count > MostTrials, "trials", $"At most {MostTrials} trials of a die are kept.");
        for (var i = 0; i < trials.Count && trials.Count <= MostTrials; i++)
        {
            var isReleased = trials[i].ReleasedDegrees is > 0 and < 180;
            errors.AddIf(
                !isReleased,
                $"trials[{i}].releasedDegrees",
                "The angle after release is over 0 and under 180 degrees."
            );
            errors.AddIf(
                isReleased
                    && !(trials[i].BentDegrees >= trials[i].ReleasedDegrees && trials[i].BentDegrees < FarthestDegrees),
                $"trials[{i}].bentDegrees",
                $"The bender stood at the angle after release or more, under {FarthestDegrees:0} degrees."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var rising = trials.Select((t, i) => (Trial: t, Index: i)).OrderBy(t => t.Trial.ReleasedDegrees).ToList();
        for (var i = 1; i < rising.Count; i++)
        {
            errors.AddIf(
                rising[i].Trial.ReleasedDegrees == rising[i - 1].Trial.ReleasedDegrees
                    || rising[i].Trial.BentDegrees <= rising[i - 1].Trial.BentDegrees,
                $"trials[{rising[i].Index}].bentDegrees",
                $"This trial does not fit the one that came to rest at {rising[i - 1].Trial.ReleasedDegrees:0.##}°: more at the bender must give more after release. Measure it again or leave one out."
            );
        }

        return errors.Any ? errors.ToFailure() : new SpringbackTable(die, [.. rising.Select(t => t.Trial)]);
    }

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
