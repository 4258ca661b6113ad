using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>Local days of the shop, seven where nothing else is asked for, from the first instant of the first day to the first instant after the last.</summary>
/// <remarks>A week in which the clocks change has 167 or 169 hours; days are counted by the calendar, never as 24 hours.</remarks>
public sealed record ShopWeek(DateOnly FirstDay, DateTimeOffset From, DateTimeOffset To)
{
    public const int Days = 7;

    /// <summary>The longest range that is read at once.</summary>
    public const int MostDays = 366;

    public int Length { get; private init; } = Days;

    public DateOnly LastDay => FirstDay.AddDays(Length - 1);

    public static ShopWeek Starting(DateOnly firstDay, Shop shop) =>
        new(firstDay, shop.StartOf(firstDay), shop.StartOf(firstDay.AddDays(Days)));

    /// <summary>From a day to a day, both with their whole length; refused at the field that is wrong.</summary>
    public static Outcome<ShopWeek> Range(DateOnly firstDay, DateOnly lastDay, Shop shop)
    {
        ArgumentNullException.ThrowIfNull(shop);
        var length = lastDay.DayNumber - firstDay.DayNumber + 1;
        return length switch
        {
            < 1 => Failure.Field("end", "The last day lies before the first."),
            > MostDays => Failure.Field("end", $"At most {MostDays} days are read at once; these are {length}."),
            _ => new ShopWeek(firstDay, shop.StartOf(firstDay), shop.StartOf(lastDay.AddDays(1))) { Length = length },
        };
    }

    public bool Contains(DateTimeOffset at) => at >= From && at < To;
}

/// <summary>Time on the clock of one person at one operation; open while <paramref name="Until"/> is null.</summary>
public sealed record WorkedSpan(DateTimeOffset From, DateTimeOffset? Until);

/// <summary>Something that kept an operation from going on, for a while or still.</summary>
/// <param name="Why">The cause as a sentence: "Waiting for: door panels, due Tuesday".</param>
/// <param name="Operation">Code of the operation.</param>
/// <param name="From">Since when; null where only the present is known.</param>
/// <param name="Until">Null while it lasts.</param>
public sealed record BlockedSpan(string Why, string Operation, DateTimeOffset? From, DateTimeOffset? Until);

/// <summary>Money received (plus) or given back (minus).</summary>
public sealed record CashMoved(DateTimeOffset At, Money Amount);

/// <summary>What the week report must know of a job.</summary>
/// <param name="Car">Make and model, as people call it.</param>
/// <param name="FinishedAt">When the standing sign-off was given; null while there is none.</param>
/// <param name="LeftAt">When it was handed over or cancelled; null while it is in the shop.</param>
/// <param name="HoursEstimated">The route's estimate at the 50 % level; 0 where none was made.</param>
public sealed record WeekJob(
    JobId Id,
    string Number,
    string Car,
    DateTimeOffset OpenedAt,
    DateTimeOffset? FinishedAt,
    DateTimeOffset? LeftAt,
    decimal HoursEstimated,
    IReadOnlyList<WorkedSpan> Work,
    IReadOnlyList<BlockedSpan> Blocked,
    IReadOnlyList<CashMoved> Money
);

/// <summary>A job behind a figure, with its share of it.</summary>
public sealed record Share<T>(JobId Id, string Number, string Car, T Amount);

/// <summary>A finished car: what it was estimated at and what it took, from its first to its last hour.</summary>
public sealed record FinishedShare(decimal HoursEstimated, decimal HoursLogged);

/// <summary>The owner's figures for one week. Each is the sum, or the count, of the jobs listed under it.</summary>
/// <param name="Finished">Cars whose standing sign-off was given in the week.</param>
/// <param name="InHand">Cars in the shop and not finished when the week ended (or now, if it has not).</param>
/// <param name="HoursLogged">Hours on the clock within the week, by job.</param>
/// <param name="Blocked">What kept work waiting in the week, a line for each cause.</param>
/// <param name="MoneyTaken">Received less given back within the week, by job.</param>
public sealed record WeekReport(
    ShopWeek Week,
    DateTimeOffset AsOf,
    IReadOnlyList<Share<FinishedShare>> Finished,
    IReadOnlyList<Share<decimal>> InHand,
    IReadOnlyList<Share<decimal>> HoursLogged,
    IReadOnlyList<Share<BlockedSpan>> Blocked,
    IReadOnlyList<Share<Money>> MoneyTaken
)
{
    public decimal HoursLoggedTotal => HoursLogged.Sum(s => s.Amount);

    public decimal FinishedHoursEstimated => Finished.Sum(s => s.Amount.HoursEstimated);

    public decimal FinishedHoursLogged => Finished.Sum(s => s.Amount.HoursLogged);

    public bool IsEmpty => Finished.Count + InHand.Count + HoursLogged.Count + Blocked.Count + MoneyTaken.Count == 0;

    public Money MoneyTakenTotal(Currency currency) =>
        MoneyTaken.Aggregate(Money.Zero(currency), (sum, share) => sum + share.Amount);

    /// <summary>Works the figures out.</summary>
    /// <param name="week">Which seven days.</param>
    /// <param name="now">Spans still open are counted up to here, and a week that has not ended is read as of here.</param>
    /// <param name="jobs">Every job that may have to do with the week.</param>
    public static WeekReport Build(ShopWeek week, DateTimeOffset now, IReadOnlyList<WeekJob> jobs)
    {
        var asOf = now < week.To ? now : week.To;
        var known = jobs.OrderBy(j => j.Number, StringComparer.Ordinal).ToList();
        return new WeekReport(
            week,
            asOf,
            [
                .. known
                    .Where(j => j.FinishedAt is { } at && week.Contains(at) && at <= now)
                    .Select(j => Of(j, new FinishedShare(j.HoursEstimated, Hours(j, DateTimeOffset.MinValue, now)))),
            ],
            [.. known.Where(j => IsInHand(j, asOf)).Select(j => Of(j, j.HoursEstimated))],
            [.. known.Select(j => Of(j, Hours(j, week.From, asOf))).Where(s => s.Amount > 0)],
            [.. known.SelectMany(j => j.Blocked.Where(b => Touches(b, week, now)).Select(b => Of(j, b)))],
            [
                .. known
                    .Where(j => j.Money.Any(m => week.Contains(m.At)))
                    .Select(j =>
                        Of(j, j.Money.Where(m => week.Contains(m.At)).Select(m => m.Amount).Aggregate((a, b) => a + b))
                    ),
            ]
        );
    }

    /// <summary>At an instant: already in, neither finished nor gone.</summary>
    private static bool IsInHand(WeekJob job, DateTimeOffset at) =>
        job.OpenedAt < at && !(job.FinishedAt <= at) && !(job.LeftAt <= at);

    /// <summary>A cause without a beginning is known for the present only, so it belongs to the week that holds the present.</summary>
    private static bool Touches(BlockedSpan span, ShopWeek week, DateTimeOffset now) =>
        span.From is { } from ? from < week.To && (span.Until ?? now) >= week.From && from <= now : week.Contains(now);

    /// <summary>Hours of the minutes that <see cref="WorkedTime"/> counts, as on the job's own page.</summary>
    private static decimal Hours(WorkedSpan span, DateTimeOffset from, DateTimeOffset to) =>
        WorkedTime.Minutes(span.From, span.Until ?? to, from, to) / 60m;

    private static decimal Hours(WeekJob job, DateTimeOffset from, DateTimeOffset to) =>
        job.Work.Sum(w => Hours(w, from, to));

    private static Share<T> Of<T>(WeekJob job, T amount) => new(job.Id, job.Number, job.Car, amount);
}
