using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>Whether a person gets last week's figures by mail on Monday, and at what hour. Without a row: no.</summary>
public sealed class WeekMailWish : IVersioned
{
    /// <summary>Before work begins: common practice, no source.</summary>
    public const int UsualHour = 7;

    private WeekMailWish() { }

    public PersonId Id { get; private set; }
    public long Version { get; private set; }
    public bool IsOn { get; private set; }

    /// <summary>Of the shop's clock on Monday, 0 to 23.</summary>
    public int Hour { get; private set; }

    /// <summary>When it was turned on last; null while it never was.</summary>
    public DateTimeOffset? OnSince { get; private set; }

    public static WeekMailWish Of(PersonId person) => new() { Id = person, Hour = UsualHour };

    /// <param name="hour">Null leaves it.</param>
    public Outcome<Done> Change(bool isOn, int? hour, DateTimeOffset at)
    {
        if (hour is < 0 or > 23)
        {
            return Failure.Field("hour", "The hour is a whole number from 0 to 23.");
        }

        OnSince = isOn && !IsOn ? at : OnSince;
        (IsOn, Hour) = (isOn, hour ?? Hour);
        return Outcome.Ok;
    }

    /// <summary>The Monday whose mail is due; null where none is. Who asks for it after the hour gets the next Monday's.</summary>
    public DateOnly? DueOn(DateTimeOffset now, Shop shop)
    {
        ArgumentNullException.ThrowIfNull(shop);
        var monday = FlowWeek.MondayOf(shop.LocalDay(now));
        var due = LocalClock.InstantOf(shop.Zone, monday, new TimeOnly(Hour, 0));
        return IsOn && due <= now && OnSince <= due ? monday : null;
    }
}

/// <summary>One person's mail with the figures of one week. What is sent by the clock is there once for each person and Monday: the database refuses a second one.</summary>
public sealed class WeekMail
{
    private WeekMail() { }

    public WeekMailId Id { get; private set; }
    public PersonId Person { get; private set; }

    /// <summary>First day of the week it tells of.</summary>
    public DateOnly Start { get; private set; }

    /// <summary>The Monday on which it was due; null where the person asked for it by hand.</summary>
    public DateOnly? DueOn { get; private set; }

    public DateTimeOffset NotedAt { get; private set; }

    /// <summary>By the clock, of the week before a Monday.</summary>
    public static WeekMail Due(WeekMailId id, PersonId person, DateOnly monday, DateTimeOffset at) =>
        new()
        {
            Id = id,
            Person = person,
            Start = monday.AddDays(-ShopWeek.Days),
            DueOn = monday,
            NotedAt = at,
        };

    /// <summary>By hand, of the last week that is over; as often as it is asked for.</summary>
    public static WeekMail Asked(WeekMailId id, PersonId person, DateOnly today, DateTimeOffset at) =>
        new()
        {
            Id = id,
            Person = person,
            Start = FlowWeek.MondayOf(today).AddDays(-ShopWeek.Days),
            NotedAt = at,
        };
}
