using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Application.Planning;

/// <summary>The coming weeks.</summary>
/// <param name="Running">A search that goes on at the moment.</param>
/// <param name="Made">The run whose plan this is; null where there is none yet: the plain rule's plan of this moment is shown.</param>
/// <param name="MovedOn">What happened since the plan was made, as sentences; empty while it still holds.</param>
/// <param name="InDanger">Cars that are planned to be late or with no day to spare, the worst first.</param>
public sealed record PlanView(
    PlanRunView? Running,
    PlanRunView? Made,
    string Quality,
    IReadOnlyList<string> MovedOn,
    IReadOnlyList<PlanDayView> Days,
    IReadOnlyList<PlanCarView> Cars,
    IReadOnlyList<PlanCarView> InDanger,
    IReadOnlyList<PlanWeekView> Weeks,
    IReadOnlyList<PlanLeftOut> LeftOut,
    IReadOnlyList<PlanGranted> Granted,
    IReadOnlyList<string> GivenUp,
    IReadOnlyList<PlanPersonView> People
);

/// <summary>Somebody who can be given work.</summary>
public sealed record PlanPersonView(PersonId Id, string Name, IReadOnlyList<string> Skills);

/// <summary>One open day with what is done on it, in order.</summary>
public sealed record PlanDayView(DateOnly Day, IReadOnlyList<PlanLineView> Lines);

/// <summary>One operation on one day.</summary>
/// <param name="From">When it begins on that day.</param>
/// <param name="To">When it ends, or the work of that day does.</param>
/// <param name="GoesOn">It is not over at the end of the day.</param>
/// <param name="CameOver">It was begun on an earlier day.</param>
public sealed record PlanLineView(
    JobId Job,
    string Number,
    string Car,
    string Operation,
    string Title,
    Phase Phase,
    string Skill,
    DateTimeOffset From,
    DateTimeOffset To,
    bool GoesOn,
    bool CameOver,
    PersonId Person,
    string PersonName,
    string Place,
    OperationWish Wish,
    bool IsLate
)
{
    public bool IsPinned => Wish.At is not null;
}

/// <summary>One car in the plan.</summary>
/// <param name="ReadyOn">The day on which its last operation ends; null where it is left out.</param>
/// <param name="DaysLate">Open days after the promise; negative for days to spare; null without a promise or a plan.</param>
public sealed record PlanCarView(
    JobId Job,
    string Number,
    string Car,
    DateOnly? PromisedOn,
    DateOnly? ReadyOn,
    int? DaysLate,
    int Weight,
    IReadOnlyList<RibbonDay> Ribbon,
    string? WhyLeftOut
)
{
    public bool IsLate => DaysLate > 0;

    /// <summary>Not late, but not a day to spare.</summary>
    public bool IsTight => DaysLate is 0;
}

/// <summary>Planned hours of one week against the hours of people who are there.</summary>
/// <param name="Monday">Its first day.</param>
public sealed record PlanWeekView(DateOnly Monday, decimal PlannedHours, decimal CapacityHours);
