using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Planning;

/// <content>When an operation may begin: parts, stock, the car itself, holds and cures, and what is taken for granted where no day is known.</content>
public sealed partial class PlanBuilder
{
    /// <summary>The first quarter hour at which it may begin, and what it waits for until then.</summary>
    private (int Slot, string? Awaits) Earliest(PlanOrder order, Operation operation, OperationWish wish, int carSlot)
    {
        var all = new List<(int Slot, string Awaits)> { (carSlot, "the car") };
        if (wish.NotBefore is { } day)
        {
            all.Add((axis.StartOfDay(day), $"{GateFacts.Day(day)}, as wished"));
        }

        if (operation.CurrentHold is { } hold)
        {
            all.Add((tomorrow, hold.Words()));
            Grant(
                order,
                $"{operation.Code} {operation.Title} is on hold ({hold.Words()}); taken as if it could go on tomorrow."
            );
        }

        all.AddRange(
            order
                .Job.Gates(operation, order.Facts)
                .Where(g => !g.IsMet)
                .Select(g => (Met(order, operation, g), g.Whom ?? "the shop"))
        );
        all.AddRange(
            operation
                .Route.Gates.Where(g => g.Kind == GateKind.Cure)
                .Select(g => order.Job.Operation(g.Operation!))
                .Where(o => o?.FinishRecordedAt is not null)
                .Select(o =>
                    (
                        axis.SlotAtOrAfter(o!.FinishRecordedAt!.Value.AddMinutes(o.Route.CureMinutes)),
                        $"the cure of {o.Code}"
                    )
                )
        );
        var last = all.MaxBy(e => e.Slot);
        return last.Slot == 0 ? (0, null) : last;
    }

    /// <summary>When a gate that waits for somebody outside the floor is taken to be met.</summary>
    private int Met(PlanOrder order, Operation operation, GateAnswer gate)
    {
        var comes = gate.Kind is GateKind.CustomerPart or GateKind.Stock or GateKind.SentOut;
        if (comes && gate.DueOn is { } due && due >= shop.LocalDay(now))
        {
            return axis.StartOfDay(due.AddDays(1));
        }

        if (comes || gate.Kind is GateKind.OwnerHold or GateKind.ChangeOrder or GateKind.Deposit or GateKind.Isolation)
        {
            var why = gate.DueOn is null
                ? "No day is known; taken as if it were so tomorrow."
                : "Its day has passed; taken as if it came tomorrow.";
            Grant(order, $"{operation.Code} {operation.Title}: {gate.Text} {why}");
            return tomorrow;
        }

        return 0;
    }

    private int CarSlot(PlanOrder order)
    {
        if (order.CarIsHere)
        {
            return 0;
        }

        if (order.CarComesAt is { } at && at >= now)
        {
            return axis.SlotAtOrAfter(at);
        }

        Grant(
            order,
            order.CarComesAt is null
                ? "No day is agreed for the car to come; taken as if it came tomorrow."
                : "The car was to come already; taken as if it came tomorrow."
        );
        return tomorrow;
    }
}
