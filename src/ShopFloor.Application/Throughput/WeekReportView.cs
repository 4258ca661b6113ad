using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Throughput;

/// <summary>A job behind a figure.</summary>
public sealed record WeekJobRef(JobId Id, string Number, string Car);

public sealed record FinishedRow(WeekJobRef Job, decimal HoursEstimated, decimal HoursLogged);

public sealed record InHandRow(WeekJobRef Job, decimal HoursEstimated);

public sealed record HoursRow(WeekJobRef Job, decimal Hours);

/// <param name="Since">Null where only the present is known.</param>
public sealed record BlockedRow(
    WeekJobRef Job,
    string Operation,
    string Why,
    DateTimeOffset? Since,
    DateTimeOffset? Until
);

public sealed record MoneyRow(WeekJobRef Job, long AmountMinor);

public sealed record FinishedFigure(
    int Count,
    decimal HoursEstimated,
    decimal HoursLogged,
    IReadOnlyList<FinishedRow> Jobs
);

public sealed record InHandFigure(int Count, IReadOnlyList<InHandRow> Jobs);

public sealed record HoursFigure(decimal Hours, IReadOnlyList<HoursRow> Jobs);

public sealed record BlockedFigure(int Count, IReadOnlyList<BlockedRow> Jobs);

public sealed record MoneyFigure(long AmountMinor, IReadOnlyList<MoneyRow> Jobs);

/// <summary>The owner's figures for seven local days; each carries the jobs behind it.</summary>
/// <param name="Start">First local day.</param>
/// <param name="End">Last local day.</param>
/// <param name="AsOf">The instant up to which was counted: the week's end, or now.</param>
/// <param name="IsOver">The week has ended: its figures are those of its end.</param>
/// <param name="CarsFinished">Signed off in the week, with estimate beside all hours they took.</param>
/// <param name="WorkInHand">In the shop and not finished as of <paramref name="AsOf"/>.</param>
/// <param name="HoursLogged">On the clock within the week.</param>
public sealed record WeekReportView(
    DateOnly Start,
    DateOnly End,
    DateTimeOffset AsOf,
    bool IsOver,
    string Currency,
    FinishedFigure CarsFinished,
    InHandFigure WorkInHand,
    HoursFigure HoursLogged,
    BlockedFigure Blocked,
    MoneyFigure MoneyTaken
)
{
    public bool IsEmpty =>
        CarsFinished.Count + WorkInHand.Count + HoursLogged.Jobs.Count + Blocked.Count + MoneyTaken.Jobs.Count == 0;
}
