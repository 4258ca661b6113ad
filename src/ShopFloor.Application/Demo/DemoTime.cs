namespace ShopFloor.Application.Demo;

/// <summary>The demo's clock: goes forward only, from eight weeks ago to now.</summary>
internal sealed class DemoClock(DateTimeOffset start) : TimeProvider
{
    private DateTimeOffset now = start;

    public override DateTimeOffset GetUtcNow() => now;

    public void MoveTo(DateTimeOffset to) => now = to > now ? to : now;
}

/// <summary>Working days and hours of the demo shop: Monday to Friday, 8 to 17 in its zone.</summary>
internal sealed class DemoCalendar(TimeZoneInfo zone, DateTimeOffset now)
{
    private const int Opens = 8;
    private const int Closes = 17;

    /// <summary>Today, or the last working day before it.</summary>
    private readonly DateOnly today = LastWorkingDay(LocalDay(zone, now));

    /// <summary>The working day so many before or after today.</summary>
    public DateOnly Day(int offset)
    {
        var day = today;
        for (var left = Math.Abs(offset); left > 0; left--)
        {
            do
            {
                day = day.AddDays(Math.Sign(offset));
            } while (!IsWorking(day));
        }

        return day;
    }

    public DateTimeOffset At(int offset, int hour, int minute = 0) => At(Day(offset), hour, minute);

    /// <summary>The same moment if the shop is open then, else the next opening.</summary>
    public DateTimeOffset WhenOpen(DateTimeOffset at)
    {
        var local = TimeZoneInfo.ConvertTime(at, zone);
        var day = DateOnly.FromDateTime(local.DateTime);
        if (IsWorking(day) && local.Hour < Closes)
        {
            return local.Hour >= Opens ? at : At(day, Opens, 0);
        }

        do
        {
            day = day.AddDays(1);
        } while (!IsWorking(day));

        return At(day, Opens, 0);
    }

    /// <summary>When the shop closes on the day of this moment.</summary>
    public DateTimeOffset Closing(DateTimeOffset at) => At(LocalDay(zone, at), Closes, 0);

    private static DateOnly LocalDay(TimeZoneInfo zone, DateTimeOffset at) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, zone).DateTime);

    private DateTimeOffset At(DateOnly day, int hour, int minute)
    {
        // Working hours lie outside every zone's change of the clocks.
        var local = day.ToDateTime(new TimeOnly(hour, minute));
        return new DateTimeOffset(local, zone.GetUtcOffset(local)).ToUniversalTime();
    }

    private static DateOnly LastWorkingDay(DateOnly day)
    {
        while (!IsWorking(day))
        {
            day = day.AddDays(-1);
        }

        return day;
    }

    private static bool IsWorking(DateOnly day) => day.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday);
}

/// <summary>Runs what happens in the shop in the order of time. Whatever happens is a sequence of moments at which it wants to go on.</summary>
internal sealed class DemoAgenda(DemoClock clock, DateTimeOffset end)
{
    private readonly PriorityQueue<IAsyncEnumerator<DateTimeOffset>, (DateTimeOffset At, int Order)> waiting = new();
    private int order;

    /// <summary>Adds something that begins at once and says itself when it goes on.</summary>
    public void Add(IAsyncEnumerable<DateTimeOffset> happening) =>
        waiting.Enqueue(happening.GetAsyncEnumerator(), (DateTimeOffset.MinValue, order++));

    /// <summary>Goes on until nothing is left before the end.</summary>
    public async Task RunAsync()
    {
        while (waiting.TryDequeue(out var happening, out var key))
        {
            if (key.At > end)
            {
                await happening.DisposeAsync();
                continue;
            }

            clock.MoveTo(key.At);
            if (await happening.MoveNextAsync())
            {
                waiting.Enqueue(happening, (happening.Current, order++));
            }
            else
            {
                await happening.DisposeAsync();
            }
        }
    }
}
