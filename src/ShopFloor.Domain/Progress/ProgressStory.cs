using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Progress;

public enum PhaseStand
{
    Done,
    Now,
    Coming,
}

/// <summary>One phase on the customer's strip; its words are chosen where the customer's language is known.</summary>
public sealed record PhaseStep(Phase Phase, PhaseStand Stand);

/// <summary>How far an operation is, as much as the customer's page needs: its phase, whether it is over, whether it was begun.</summary>
public readonly record struct StepTaken(Phase Phase, bool IsOver, bool IsBegun);

/// <summary>A job as its customer is told: phases only. Titles, notes and names of the shop's own work never come in here.</summary>
public sealed record ProgressStory(IReadOnlyList<PhaseStep> Phases, PhaseStep? Now, PhaseStep? Next)
{
    /// <summary>Tells it from the operations in route order. A phase is done when all its operations are over; the first one not done is where the car is.</summary>
    public static ProgressStory Tell(IReadOnlyList<StepTaken> operations)
    {
        var phases = operations.Select(o => o.Phase).Distinct().Order().ToList();
        var now = phases.Cast<Phase?>().FirstOrDefault(p => operations.Any(o => o.Phase == p && !o.IsOver));
        var steps = phases
            .Select(p => new PhaseStep(
                p,
                p == now ? PhaseStand.Now
                    : operations.All(o => o.Phase != p || o.IsOver) ? PhaseStand.Done
                    : PhaseStand.Coming
            ))
            .ToList();
        return new ProgressStory(
            steps,
            steps.Find(s => s.Stand == PhaseStand.Now),
            steps.Find(s => s.Stand == PhaseStand.Coming)
        );
    }
}
