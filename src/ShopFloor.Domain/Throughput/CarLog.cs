using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>One person's time at one step; open while <paramref name="Until"/> is null.</summary>
/// <param name="Person">As shown; the same text is the same person.</param>
public sealed record PersonSpan(string Person, DateTimeOffset From, DateTimeOffset? Until);

/// <summary>A step as the log has it.</summary>
/// <param name="OverAt">Done or not needed since; null while it is not over.</param>
public sealed record CarStep(
    string Code,
    Phase Phase,
    bool IsRework,
    DateTimeOffset? OverAt,
    IReadOnlyList<PersonSpan> Spells
)
{
    /// <summary>Whose hour it costs, see <see cref="LabourAtCost"/>.</summary>
    public string Skill { get; init; } = "";

    /// <summary>Minutes worked before the car was entered here.</summary>
    public long MinutesBefore { get; init; }
}

/// <summary>Something that was recorded as in the way of a car.</summary>
/// <param name="Rank">Of several at once the lowest is named.</param>
public sealed record CarWait(string Cause, int Rank, DateTimeOffset From, DateTimeOffset? Until);

/// <summary>A car's way through the shop, as far as the figures ask.</summary>
/// <param name="Kit">What was built, as people call it.</param>
/// <param name="InAt">Brought in, or first worked on where no drop-off was recorded before; null while it has not come.</param>
/// <param name="FinishedAt">Of the standing sign-off.</param>
/// <param name="LeftAt">Handed over or cancelled.</param>
/// <param name="PromisedFirst">The day promised when the job was opened.</param>
/// <param name="PromisedLast">The day promised last.</param>
/// <param name="HoursBilled">Hours in the price; null while nothing is invoiced.</param>
/// <param name="CostMinor">Suppliers' bills and outside work booked to it, and what it took from the store at purchase cost.</param>
/// <param name="Steps">In route order.</param>
public sealed record CarLog(
    JobId Id,
    string Number,
    string Car,
    string Kit,
    DateTimeOffset? InAt,
    DateTimeOffset? FinishedAt,
    DateTimeOffset? LeftAt,
    bool IsCancelled,
    DateOnly? PromisedFirst,
    DateOnly? PromisedLast,
    decimal HoursEstimated,
    decimal? HoursBilled,
    long CostMinor,
    IReadOnlyList<CarStep> Steps,
    IReadOnlyList<CarWait> Waits
)
{
    /// <summary>What an hour costs the shop, of the price book its quote was priced with.</summary>
    public required CostRates Rates { get; init; }

    /// <summary>What its hours up to an instant cost.</summary>
    public LabourAtCost Labour(DateTimeOffset asOf) =>
        LabourAtCost.Of(
            Steps.Select(s => new SkillMinutes(
                s.Skill,
                s.MinutesBefore
                    + s.Spells.Sum(t => WorkedTime.Minutes(t.From, t.Until ?? asOf, DateTimeOffset.MinValue, asOf))
            )),
            Rates
        );

    public CarStay Stay => new(InAt, FinishedAt, LeftAt);

    /// <summary>No longer work in hand: finished, or gone without it.</summary>
    public DateTimeOffset? EndAt => Stay.EndAt;

    public string Title => $"{Number} {Car}";

    /// <summary>Whole minutes in hand between two instants.</summary>
    public long MinutesInHand(DateTimeOffset from, DateTimeOffset to) =>
        InAt is { } since ? WorkedTime.Minutes(since, EndAt ?? to, from, to) : 0;

    /// <summary>In hand at an instant.</summary>
    public bool IsInHand(DateTimeOffset at) => Stay.IsInHand(at);

    /// <summary>The phase at an instant: that of the first step of the route that was not over then.</summary>
    public Phase PhaseAt(DateTimeOffset at) => Steps.FirstOrDefault(s => !(s.OverAt <= at))?.Phase ?? Phase.SignOff;
}
