using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

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

/// <summary>The owner's figures for local days, seven where no end was given; each carries the jobs behind it.</summary>
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
    /// <summary>The shop's day when it was read.</summary>
    public DateOnly Today { get; init; }

    /// <summary>Every figure with its definition and the rows behind it.</summary>
    public IReadOnlyList<FigureView> Figures { get; init; } = [];

    /// <summary>The cars in hand during the range.</summary>
    public IReadOnlyList<CarRowView> Cars { get; init; } = [];

    /// <summary>The weeks up to the one in which the range ends, oldest first.</summary>
    public IReadOnlyList<FlowWeek> Flow { get; init; } = [];

    public LittlesLawView? LittlesLaw { get; init; }

    /// <summary>Two ways to the same number, held against one another.</summary>
    public IReadOnlyList<TieOut> TieOuts { get; init; } = [];

    public bool IsEmpty =>
        Figures.All(f => f.Rows.Count == 0)
        && CarsFinished.Count + WorkInHand.Count + HoursLogged.Jobs.Count + Blocked.Count + MoneyTaken.Jobs.Count == 0;
}
