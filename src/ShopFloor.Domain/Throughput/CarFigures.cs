using System.Globalization;
using ShopFloor.Domain.Common;
using static ShopFloor.Domain.Throughput.FigureDefinitions;

namespace ShopFloor.Domain.Throughput;

/// <summary>Figures of cars and their time in the shop.</summary>
internal static class CarFigures
{
    private const decimal MinutesOfDay = 24 * 60;
    private const double Late = 0.85;

    public static IReadOnlyList<Figure> Of(
        IReadOnlyList<CarLog> cars,
        IReadOnlyList<CarRow> rows,
        ShopWeek week,
        DateTimeOffset asOf,
        Shop shop,
        IReadOnlyList<double> pastDays
    )
    {
        bool Within(DateTimeOffset? at) => at is { } a && week.Contains(a) && a <= asOf;
        string Day(DateTimeOffset? at) => Words(shop.LocalDay(at!.Value));
        FigureRow Row(CarLog car, string? detail) => new(car.Id, car.Title, detail, DaysInHand(car, asOf));
        var finished = cars.Where(c => Within(c.FinishedAt)).ToList();
        var inHand = cars.Where(c => c.IsInHand(asOf)).ToList();
        return
        [
            Counted(TakenIn, cars.Where(c => Within(c.InAt)).Select(c => Row(c, Day(c.InAt)))),
            Counted(Finished, finished.Select(c => Row(c, Day(c.FinishedAt)))),
            Counted(HandedOver, cars.Where(c => !c.IsCancelled && Within(c.LeftAt)).Select(c => Row(c, Day(c.LeftAt)))),
            Counted(InHandByPhase, inHand.OrderBy(c => c.PhaseAt(asOf)).Select(c => Row(c, c.PhaseAt(asOf).Title()))),
            .. Cycle(finished.Where(c => c.InAt is not null).ToList(), asOf),
            .. TouchAndWaiting(rows),
            AgeingOf(inHand, asOf, pastDays),
            OnTime(OnTimeFirst, finished, c => c.PromisedFirst, shop),
            OnTime(OnTimeLast, finished, c => c.PromisedLast, shop),
        ];
    }

    private static Figure Counted(FigureDefinition definition, IEnumerable<FigureRow> rows)
    {
        var list = rows.ToList();
        return new Figure(definition, list.Count, list);
    }

    private static IEnumerable<Figure> Cycle(List<CarLog> finished, DateTimeOffset asOf)
    {
        var days = finished.Select(c => (double)DaysInHand(c, asOf)!.Value).ToList();
        var rows = finished.Select(c => new FigureRow(c.Id, c.Title, null, DaysInHand(c, asOf))).ToList();
        yield return new Figure(CycleMedian, Rounded(Percentile.Of(days, 0.5)), rows);
        yield return new Figure(CycleP85, Rounded(Percentile.Of(days, Late)), rows);
        var phases = finished
            .SelectMany(c =>
                CarRibbon
                    .Of(c, DateTimeOffset.MinValue, asOf)
                    .GroupBy(p => p.Phase)
                    .Select(g => (Phase: g.Key, Days: (double)(g.Sum(p => p.Minutes) / MinutesOfDay)))
            )
            .ToLookup(p => p.Phase, p => p.Days);
        yield return new Figure(
            PhaseTimes,
            finished.Count == 0 ? null : finished.Count,
            finished.Count == 0
                ? []
                :
                [
                    .. Enum.GetValues<Phase>()
                        // A car that was never in a phase spent no time in it.
                        .Select(p =>
                            (
                                Phase: p,
                                Days: phases[p]
                                    .Concat(Enumerable.Repeat(0.0, finished.Count - phases[p].Count()))
                                    .ToList()
                            )
                        )
                        .Select(p => new FigureRow(
                            null,
                            p.Phase.Title(),
                            null,
                            Rounded(Percentile.Of(p.Days, 0.5)),
                            Rounded(Percentile.Of(p.Days, Late))
                        )),
                ]
        );
    }

    private static IEnumerable<Figure> TouchAndWaiting(IReadOnlyList<CarRow> rows)
    {
        static decimal Hours(IEnumerable<RibbonPart> parts) => parts.Sum(p => p.Minutes) / 60m;
        var touched = rows.Select(r => new FigureRow(
                r.Car.Id,
                r.Car.Title,
                null,
                Hours(r.Ribbon.Where(p => p.WaitingFor is null)),
                Hours(r.Ribbon.Where(p => p.WaitingFor is not null))
            ))
            .ToList();
        yield return new Figure(Touch, touched.Count == 0 ? null : touched.Sum(r => r.Amount), touched);
        var waits = rows.SelectMany(r => r.Ribbon.Where(p => p.WaitingFor is not null).Select(p => (r.Car, Part: p)))
            .GroupBy(p => p.Part.WaitingFor!)
            .Select(g => new FigureRow(
                null,
                g.Key,
                string.Join(", ", g.Select(p => p.Car.Number).Distinct()),
                Hours(g.Select(p => p.Part))
            ))
            .OrderByDescending(r => r.Amount)
            .ToList();
        yield return new Figure(Waiting, waits.Count == 0 ? null : waits.Sum(r => r.Amount), waits);
    }

    private static Figure AgeingOf(List<CarLog> inHand, DateTimeOffset asOf, IReadOnlyList<double> pastDays)
    {
        var limit = Percentile.Of(pastDays, Late);
        var rows = inHand
            .Select(c => new FigureRow(
                c.Id,
                c.Title,
                c.PhaseAt(asOf).Title(),
                DaysInHand(c, asOf),
                Rounded(Percentile.StandingOf((double)DaysInHand(c, asOf)!.Value, pastDays))
            ))
            .OrderByDescending(r => r.Amount)
            .ToList();
        return new Figure(
            Ageing,
            limit is null || rows.Count == 0 ? null : rows.Count(r => (double)r.Amount!.Value > limit),
            rows
        );
    }

    private static Figure OnTime(
        FigureDefinition definition,
        IEnumerable<CarLog> finished,
        Func<CarLog, DateOnly?> promise,
        Shop shop
    )
    {
        var rows = finished
            .Where(c => promise(c) is not null)
            .Select(c => new FigureRow(
                c.Id,
                c.Title,
                Words(promise(c)!.Value),
                shop.LocalDay(c.FinishedAt!.Value).DayNumber - promise(c)!.Value.DayNumber
            ))
            .ToList();
        return new Figure(
            definition,
            rows.Count == 0 ? null : 100m * rows.Count(r => r.Amount <= 0) / rows.Count,
            rows
        );
    }

    private static decimal? DaysInHand(CarLog car, DateTimeOffset asOf) =>
        car.InAt is null ? null : car.MinutesInHand(DateTimeOffset.MinValue, asOf) / MinutesOfDay;

    private static decimal? Rounded(double? value) => value is { } v ? decimal.Round((decimal)v, 6) : null;

    private static string Words(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
