using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>One correction as people see it.</summary>
public sealed record TimeCorrectionView(
    DateTimeOffset FromStart,
    DateTimeOffset? FromEnd,
    DateTimeOffset ToStart,
    DateTimeOffset ToEnd,
    string Reason,
    string By,
    DateTimeOffset At
);

/// <summary>One spell of one person: on an operation of a job, or in the shop without one.</summary>
/// <param name="Id">Of the spell; of a time entry where <paramref name="JobId"/> is given, else of a time without a job.</param>
/// <param name="Kind">Null on an operation.</param>
/// <param name="What">Operation with its title and car, or what else it was.</param>
/// <param name="EndedAt">Null while it runs.</param>
/// <param name="Minutes">Whole minutes; of a list of one day those within the day.</param>
/// <param name="ForgottenSince">Since when it is taken for forgotten; null where it is not.</param>
/// <param name="EnteredBy">Who entered it, or a part of it, afterwards; null where it was tapped.</param>
/// <param name="Corrections">Oldest first; the first holds what was entered originally.</param>
/// <param name="FromPaper">What of it stood on paper while the server could not be reached.</param>
public sealed record SpellView(
    Guid Id,
    PersonId? Person,
    string Name,
    JobId? JobId,
    string? Job,
    string? Operation,
    ShopTimeKind? Kind,
    string What,
    string? Note,
    DateTimeOffset StartedAt,
    DateTimeOffset? EndedAt,
    long Minutes,
    DateTimeOffset? ForgottenSince,
    string? EnteredBy,
    string? EnteredReason,
    IReadOnlyList<TimeCorrectionView> Corrections,
    PaperPart FromPaper
);

/// <summary>The times of one job, by operation in route order.</summary>
public sealed record JobTimesView(
    JobId JobId,
    long Version,
    string Number,
    long Minutes,
    IReadOnlyList<SpellView> Spells
);

/// <summary>One person's local day.</summary>
/// <param name="AttendanceMinutes">In the shop.</param>
/// <param name="JobMinutes">On operations; two operations at once count twice.</param>
/// <param name="BreakMinutes">On breaks.</param>
/// <param name="OtherMinutes">At other things without a job.</param>
public sealed record PersonDayView(
    PersonId? Person,
    string Name,
    long AttendanceMinutes,
    long JobMinutes,
    long BreakMinutes,
    long OtherMinutes,
    IReadOnlyList<SpellView> Spells
);

/// <summary>Everybody's times of one local day.</summary>
/// <param name="IsCut">More spells than are shown; ask for them by job.</param>
public sealed record DayView(DateOnly On, IReadOnlyList<PersonDayView> People, bool IsCut);

/// <summary>What somebody's own day looks like now.</summary>
/// <param name="HereSince">Null where they are not clocked in.</param>
/// <param name="Doing">Break or something else without a job; null for none.</param>
/// <param name="Running">Their timers on operations.</param>
/// <param name="LeftBefore">What they were on before the break.</param>
/// <param name="ShiftEndsAt">The next end of the shift; null where the shop has none.</param>
/// <param name="RemindFrom">From when people are reminded of it.</param>
public sealed record MyDayView(
    DateTimeOffset? HereSince,
    SpellView? Doing,
    IReadOnlyList<SpellView> Running,
    IReadOnlyList<LeftWorkView> LeftBefore,
    DateTimeOffset? ShiftEndsAt,
    DateTimeOffset? RemindFrom,
    long TodayMinutes
);

/// <summary>An operation that was left for a break.</summary>
public sealed record LeftWorkView(JobId JobId, string Job, string Car, string Operation, string Title);
