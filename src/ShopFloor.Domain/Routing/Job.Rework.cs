using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <content>Rework: done is never undone, what must be done again is an operation of its own.</content>
public sealed partial class Job
{
    /// <summary>Puts rework on the route: an operation with its own needs, closings and openings (cutting a tube out opens a way again).</summary>
    /// <param name="mended">The operation it mends; it must have begun.</param>
    /// <param name="route">What is done. Its code may be empty: the next free number after the mended operation's is taken.</param>
    /// <param name="before">Operations that wait for it; null for those that come straight after the mended one and have not begun.</param>
    /// <param name="newId">Makes the id.</param>
    public Outcome<Operation> AddRework(
        string mended,
        RouteOperation route,
        IReadOnlyList<string>? before,
        Func<OperationId> newId
    )
    {
        ArgumentNullException.ThrowIfNull(route);
        if (!OpenOperation(mended).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.BegunAt is null)
        {
            return Failure.Because(
                "notBegun",
                $"{mended} {operation.Title} has not begun, so there is nothing to mend. Do it right the first time.",
                mended
            );
        }

        if (operation == Release)
        {
            return Failure.Because(
                "release",
                "A sign-off is withdrawn on the inspection page; what has to be mended is another operation.",
                mended
            );
        }

        var code = route.Code.Length > 0 ? route.Code : NextNumber(mended);
        var after = operation.IsOver ? route.After.Append(mended).Distinct() : route.After;
        var waiting =
            before
            ??
            [
                .. Operations
                    .Where(o => o is { BegunAt: null, IsOver: false } && o.Route.After.Contains(mended))
                    .Select(o => o.Code),
            ];
        return Add([new AddedOperation(route with { Code = code, After = [.. after] }, waiting, mended)], newId)
            .Then<Operation>(added => added[0]);
    }

    /// <summary>The next number after an operation's that is free.</summary>
    public string NextNumber(string code)
    {
        var number = NumberOf(code) ?? 0;
        do
        {
            number++;
        } while (Operation(number.ToString(CultureInfo.InvariantCulture)) is not null);
        return number.ToString(CultureInfo.InvariantCulture);
    }
}
