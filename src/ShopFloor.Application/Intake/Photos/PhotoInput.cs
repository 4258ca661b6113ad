using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>What goes with an uploaded picture.</summary>
/// <param name="Kind">Absent: walk-round. A reading names its photos itself.</param>
/// <param name="Operation">Code of the operation it shows.</param>
/// <param name="X">Place on the plan of the car, 0 left to 1 right; with <paramref name="Y"/> or not at all.</param>
/// <param name="Y">0 nose to 1 tail.</param>
/// <param name="Caption">A few words.</param>
public sealed record PhotoInput(
    PhotoKind? Kind = null,
    string? Operation = null,
    double? X = null,
    double? Y = null,
    string? Caption = null
)
{
    internal Outcome<PlanPlace?> Place() =>
        (X, Y) switch
        {
            (null, null) => Outcome<PlanPlace?>.Success(null),
            ({ } x, { } y) => PlanPlace.At(x, y).Then<PlanPlace?>(p => p),
            _ => Failure.Field(X is null ? "x" : "y", "A place on the plan has both x and y."),
        };
}
