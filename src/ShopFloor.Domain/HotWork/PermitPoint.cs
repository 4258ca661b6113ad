using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.HotWork;

/// <summary>How a point of the checklist was found.</summary>
public enum PointFinding
{
    /// <summary>It is as the point asks.</summary>
    Done,

    /// <summary>A qualified person looked at it and recorded that the work may go on; the note names who.</summary>
    Assessed,

    /// <summary>There is nothing of the kind here; the note says why.</summary>
    NotHere,
}

/// <summary>One answered point.</summary>
/// <param name="Point">Code of the point.</param>
/// <param name="Finding">Null where nobody has looked.</param>
/// <param name="Note">Who assessed it, or why there is nothing of the kind.</param>
public sealed record PermitAnswer(string Point, PointFinding? Finding, string? Note = null);

/// <summary>One point of the checklist that is walked before a permit is opened.</summary>
/// <param name="Code">Stable, camelCase.</param>
/// <param name="Title">What must be so.</param>
/// <param name="Missing">The sentence of a refusal: what is not so and what to do.</param>
/// <param name="OfCar">It is about the car; without a car in the place it may be answered "not here".</param>
/// <param name="MayBeAbsent">It may be answered "not here" with a reason even where a car stands.</param>
/// <param name="MayBeAssessed">A qualified person's recorded assessment may stand for it.</param>
/// <remarks>Combustibles within 35 ft (10.7 m, said as 11 m): OSHA 29 CFR 1910.252(a)(2)(vii); watcher, extinguisher: (a)(2)(iii), (ii); ventilation: 1910.252(c).
/// The points about the car are common practice, no source.</remarks>
public sealed record PermitPoint(
    string Code,
    string Title,
    string Missing,
    bool OfCar = false,
    bool MayBeAbsent = false,
    bool MayBeAssessed = false
)
{
    /// <summary>Longest note, characters.</summary>
    public const int LongestNote = TextRules.ShortText;

    public static IReadOnlyList<PermitPoint> All { get; } =
    [
        new(
            "fuel",
            "Fuel and vapour: tank out and lines capped, or assessed by a qualified person",
            "Fuel and vapour: take the tank out and cap the lines, or have a qualified person assess the tank that stays and name who did.",
            OfCar: true,
            MayBeAssessed: true
        ),
        new(
            "combustibles",
            "Nothing that burns within 11 m (35 ft), or it is covered",
            "Combustibles: move everything that burns 11 m (35 ft) away, or cover it."
        ),
        new(
            "cabin",
            "Seats, headliner, glass, belts and pretensioners covered or out",
            "Cabin: cover seats, headliner, glass, belts and pretensioners, or take them out.",
            OfCar: true
        ),
        new(
            "farSide",
            "Foam, wax, bitumen and carpet on the far side of the metal cleared",
            "Far side: foam, wax, bitumen and carpet behind the metal glow unseen; clear them where heat will come.",
            OfCar: true
        ),
        new(
            "underCar",
            "The underside can be seen while sparks fly",
            "Under the car: nobody could see a fire there; make the underside visible to the watcher.",
            OfCar: true
        ),
        new(
            "electrics",
            "Lines and wiring moved; battery off; airbags made safe; high voltage isolated",
            "Lines, wiring, battery, airbags, high voltage: move, disconnect and make safe as their maker says; a qualified person isolates high voltage.",
            OfCar: true
        ),
        new(
            "extinguisher",
            "Charged extinguisher at hand, of the right kind",
            "Extinguisher: put a charged one of the right kind within reach."
        ),
        new(
            "ventilation",
            "Ventilation or extraction runs",
            "Ventilation: open, extract or ventilate before the arc is struck; shielding gas displaces air in a closed cabin."
        ),
        new(
            "airLine",
            "Air line whole, and laid where no spark falls",
            "Air line: lay it where no spark falls and look that it is whole, or say that none is in use.",
            MayBeAbsent: true
        ),
        new(
            "stands",
            "Stands under the car, on firm ground",
            "Stands: set the car on stands on firm ground before anybody works below it, or say why none are needed.",
            OfCar: true,
            MayBeAbsent: true
        ),
    ];

    /// <summary>The answer cannot stand, with a sentence why; null where it can.</summary>
    internal string? Problem(PermitAnswer? answer, bool hasCar) =>
        answer?.Finding switch
        {
            null => Missing,
            PointFinding.Done => null,
            PointFinding.Assessed when !MayBeAssessed =>
                $"{Title}: an assessment does not stand for this point. {Missing}",
            PointFinding.NotHere when !MayBeAbsent && !(OfCar && !hasCar) =>
                $"{Title}: this cannot be left out. {Missing}",
            PointFinding.Assessed when answer.Note is null =>
                "Fuel and vapour: name the qualified person who assessed it.",
            PointFinding.NotHere when answer.Note is null && hasCar =>
                $"{Title}: say why there is nothing of the kind.",
            _ => null,
        };
}
