using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Progress;

public enum PhaseStand
{
    Done,
    Now,
    Coming,
}

/// <summary>One phase on the customer's strip.</summary>
/// <param name="Text">What happens in it, in words for somebody who does not weld.</param>
public sealed record PhaseStep(Phase Phase, string Title, PhaseStand Stand, string Text);

/// <summary>How far an operation is, as much as the customer's page needs: its phase, whether it is over, whether it was begun.</summary>
public readonly record struct StepTaken(Phase Phase, bool IsOver, bool IsBegun);

/// <summary>A job as its customer is told: phases only. Titles, notes and names of the shop's own work never come in here.</summary>
public sealed record ProgressStory(IReadOnlyList<PhaseStep> Phases, PhaseStep? Now, PhaseStep? Next)
{
    /// <summary>Tells it from the operations in route order. A phase is done when all its operations are over; the first one not done is where the car is.</summary>
    public static ProgressStory Tell(IReadOnlyList<StepTaken> operations, SaleKind kind = SaleKind.Fitted)
    {
        var phases = operations.Select(o => o.Phase).Distinct().Order().ToList();
        var now = phases.Cast<Phase?>().FirstOrDefault(p => operations.Any(o => o.Phase == p && !o.IsOver));
        var steps = phases
            .Select(p =>
            {
                var stand =
                    p == now ? PhaseStand.Now
                    : operations.All(o => o.Phase != p || o.IsOver) ? PhaseStand.Done
                    : PhaseStand.Coming;
                return kind switch
                {
                    SaleKind.Shipped => OfKit(p, stand),
                    SaleKind.Bench => new PhaseStep(p, p.Title(), stand, WordsForPart(p)),
                    _ => new PhaseStep(p, p.Title(), stand, Words(p)),
                };
            })
            .ToList();
        return new ProgressStory(
            steps,
            steps.Find(s => s.Stand == PhaseStand.Now),
            steps.Find(s => s.Stand == PhaseStand.Coming)
        );
    }

    /// <summary>Nobody welds on a kit that is sent: all before its last check is picking.</summary>
    private static PhaseStep OfKit(Phase phase, PhaseStand stand) =>
        phase == Phase.SignOff
            ? new(
                phase,
                "Check and packing",
                stand,
                "A second person counts and measures the parts against the list; then they are packed, weighed and sent."
            )
            : new(phase, "Parts", stand, "The parts of your kit are laid out and looked over one by one.");

    private static string WordsForPart(Phase phase) =>
        phase switch
        {
            Phase.Intake => "We look the part over with you, photograph it and note what it is made of.",
            Phase.SignOff => "A second person looks at the work; then you get the part back.",
            _ => "The work that we agreed on is done on the bench.",
        };

    private static string Words(Phase phase) =>
        phase switch
        {
            Phase.Intake => "We look the car over with you, note its condition and make it safe to work on.",
            Phase.TrimOut =>
                "Seats, belts and trim come out where the work is; each part is labelled for its way back.",
            Phase.SeamPrep =>
                "The floor is cleaned to bare metal where plates will sit; glass, wiring and fuel side are covered.",
            Phase.PlateFit => "Plates are formed to your car's floor and tacked in place.",
            Phase.MockUp => "The bar stands in the car for the first time; head room, belts and seats are measured.",
            Phase.OffCarPaint => "The bar comes out once more to be welded all round, inspected and painted.",
            Phase.FinalWeld => "Plates and bar are welded in for good, doors and hinges are set.",
            Phase.SignOff => "Protection and paint, trim back in, a last inspection by a second person.",
            _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, "Unknown phase."),
        };
}
