using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>What was recorded as in the way of a car, from when to when; the order is that of the definition of waiting time.</summary>
internal static class CarWaits
{
    public static IEnumerable<CarWait> Of(Job job, IEnumerable<CustomerPart> parts, Shop shop)
    {
        foreach (var hold in job.Operations.SelectMany(o => o.Holds))
        {
            yield return new CarWait($"on hold: {hold.Reason.Title}", 0, hold.From, hold.Until);
        }

        foreach (var stop in job.OwnerHolds)
        {
            yield return new CarWait("stopped by the owner", 1, stop.Since, stop.Until);
        }

        foreach (var thing in job.Awaited.Where(a => a.State != AwaitedState.Reserved))
        {
            yield return new CarWait(
                thing.Kind == AwaitedKind.Stock ? "stock or a supplier" : "work sent out",
                2,
                thing.Since,
                thing.EndedAt
            );
        }

        foreach (var part in parts)
        {
            yield return new CarWait(
                "a customer's part, after its day",
                3,
                shop.StartOf(part.DueOn.AddDays(1)),
                part.ArrivedAt
            );
        }

        foreach (var operation in job.Operations.Where(o => o.Route.CureMinutes > 0 && o.FinishRecordedAt is not null))
        {
            var finished = operation.FinishRecordedAt!.Value;
            yield return new CarWait("cure", 4, finished, finished.AddMinutes(operation.Route.CureMinutes));
        }
    }
}
