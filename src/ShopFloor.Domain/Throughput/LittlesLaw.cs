using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>Little's law over a window: cars in hand on the average (L) against cars ended a day (λ) times days in hand (W).</summary>
/// <remarks>
/// L = λW holds for long-run means (J. D. C. Little, A Proof for the Queuing Formula L = λW, Operations Research 9, 1961; from memory). In a window
/// with two ends the two differ by exactly what is cut off at them: time that the cars which ended in it had spent before it, and time in it of the cars
/// that are still in hand. L is integrated from the log by itself, event by event, so the identity is a check and not a definition.
/// </remarks>
/// <param name="CarMinutes">The number of cars in hand, integrated over the window.</param>
/// <param name="Ended">Cars that ended in the window.</param>
/// <param name="EndedMinutes">Their whole time in hand.</param>
/// <param name="BeforeMinutes">The part of that before the window.</param>
/// <param name="StillMinutes">Time within the window of cars that had not ended at its end.</param>
public sealed record LittlesLaw(
    long WindowMinutes,
    long CarMinutes,
    int Ended,
    long EndedMinutes,
    long BeforeMinutes,
    long StillMinutes
)
{
    private const decimal Day = 24 * 60;

    /// <summary>Cars in hand on the average.</summary>
    public decimal L => Ratio(CarMinutes, WindowMinutes);

    /// <summary>Cars ended a day.</summary>
    public decimal Lambda => Ratio(Ended, WindowMinutes) * Day;

    /// <summary>Days in hand of a car that ended; 0 where none did.</summary>
    public decimal W => Ratio(EndedMinutes, Ended) / Day;

    public decimal LambdaW => Ratio(EndedMinutes, WindowMinutes);

    public decimal AtTheEnds => Ratio(StillMinutes - BeforeMinutes, WindowMinutes);

    /// <summary>True to the minute.</summary>
    public bool TiesOut => CarMinutes == EndedMinutes - BeforeMinutes + StillMinutes;

    public static LittlesLaw Of(IReadOnlyCollection<CarLog> cars, DateTimeOffset from, DateTimeOffset to)
    {
        ArgumentNullException.ThrowIfNull(cars);
        var ended = cars.Where(c => c.InAt is not null && c.EndAt is { } e && Minute(e) > Minute(from) && e <= to)
            .ToList();
        var still = cars.Where(c => !(c.EndAt <= to));
        return new LittlesLaw(
            WorkedTime.Minutes(from, to),
            Integrate(cars, Minute(from), Minute(to)),
            ended.Count,
            ended.Sum(c => c.MinutesInHand(DateTimeOffset.MinValue, to)),
            ended.Sum(c => c.MinutesInHand(DateTimeOffset.MinValue, from)),
            still.Sum(c => c.MinutesInHand(from, to))
        );
    }

    /// <summary>Walks the log: each coming raises the number of cars, each end lowers it; the number counts for the minutes until the next event.</summary>
    private static long Integrate(IEnumerable<CarLog> cars, long from, long to)
    {
        var events = new List<(long At, int Step)>();
        foreach (var car in cars.Where(c => c.InAt is not null))
        {
            var came = Minute(car.InAt!.Value);
            events.Add((came, 1));
            if (car.EndAt is { } end)
            {
                events.Add((Math.Max(came, Minute(end)), -1));
            }
        }

        var (sum, inHand, since) = (0L, 0L, from);
        foreach (var (at, step) in events.OrderBy(e => e.At))
        {
            var until = Math.Clamp(at, from, Math.Max(from, to));
            sum += inHand * (until - since);
            (inHand, since) = (inHand + step, until);
        }

        return sum + (inHand * (Math.Max(from, to) - since));
    }

    private static long Minute(DateTimeOffset at) => WorkedTime.MinuteOf(at);

    private static decimal Ratio(long above, long below) => below == 0 ? 0 : (decimal)above / below;
}
