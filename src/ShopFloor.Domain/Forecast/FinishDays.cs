using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Domain.Forecast;

/// <summary>Turns the ends of a car's trials into days.</summary>
internal static class FinishDays
{
    public const double Middle = 0.5;
    public const double Sure = 0.85;

    /// <param name="ends">First quarter hour at which it is done, of each trial; infinite where it is later than the axis.</param>
    public static CarForecast Of(WorkAxis axis, ForecastCar car, double[] ends, string? why)
    {
        var last = axis.Days.Count == 0 ? (DateOnly?)null : axis.Days[^1].Day;
        if (why is not null || last is null)
        {
            return new CarForecast(
                car.Job,
                car.Number,
                car.Promised,
                null,
                null,
                null,
                null,
                null,
                null,
                null,
                ends.Length,
                last,
                why ?? "The shop is not open on any day that was looked at."
            );
        }

        var (p50, p85) = (At(ends, Middle), At(ends, Sure));
        var (day50, day85) = (DayOf(axis, p50), DayOf(axis, p85));
        var later = ends.Count(double.IsInfinity);
        return new CarForecast(
            car.Job,
            car.Number,
            car.Promised,
            day50,
            day85,
            p50,
            p85,
            ShareBy(axis, ends, day50),
            ShareBy(axis, ends, day85),
            car.Promised > last && later > 0 ? null : ShareBy(axis, ends, car.Promised),
            later,
            last,
            null
        );
    }

    /// <summary>Null where it lies among the trials that are later than the axis.</summary>
    private static double? At(double[] ends, double share)
    {
        // Between a known end and an unknown one nothing is known. A large number stands for the unknown ones: infinity times nothing is no number.
        var known = ends.Select(e => double.IsInfinity(e) ? double.MaxValue : e);
        return Percentile.Of(known, share) is { } at && at < int.MaxValue ? at : null;
    }

    private static DateOnly? DayOf(WorkAxis axis, double? slot) =>
        slot is { } at ? axis.DayOf((int)Math.Ceiling(at) - 1).Day : null;

    private static double? ShareBy(WorkAxis axis, double[] ends, DateOnly? day) =>
        day is { } by ? ends.Count(e => e <= axis.EndOfDay(by)) / (double)ends.Length : null;
}
