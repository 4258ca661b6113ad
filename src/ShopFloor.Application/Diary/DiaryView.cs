using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Application.Diary;

/// <summary>One line of the diary as shown.</summary>
/// <param name="Job">Null for a reminder without a job.</param>
/// <param name="Text">The part, or the reminder's words.</param>
/// <param name="DaysOver">Days since its day; 0 for today and later.</param>
/// <param name="Reminder">Where it is one: to tick off or move.</param>
public sealed record DiaryLine(
    DiaryMatter Matter,
    DateOnly Day,
    string? Time,
    DiaryStanding Standing,
    JobId? Job,
    string? Number,
    string? Car,
    string? Customer,
    string? Text,
    int DaysOver,
    ReminderId? Reminder,
    long Version
);

/// <summary>One day: how full the shop is, and what is on it.</summary>
public sealed record DiaryDay(DayCapacity Capacity, IReadOnlyList<DiaryLine> Lines);

/// <summary>Somebody to call, and why.</summary>
/// <param name="Subject">Number of the job or quote.</param>
/// <param name="Since">A day that matters: the last one of an offer, the day it was sent, the day the car went.</param>
public sealed record DiaryCall(
    CallReason Reason,
    JobId? Job,
    QuoteId? Quote,
    string Subject,
    string Car,
    string Customer,
    string? Phone,
    DateOnly? Since
);

/// <summary>A request for an offer that is not decided.</summary>
/// <param name="SentOn">Null for a draft.</param>
public sealed record DiaryEnquiry(
    QuoteId Quote,
    string Number,
    string Car,
    CustomerId CustomerId,
    string Customer,
    DateOnly CreatedOn,
    DateOnly? SentOn,
    DateOnly? ValidUntil,
    bool IsAccepted
);

/// <summary>An open job that something may be remembered of.</summary>
public sealed record DiaryJobName(JobId Job, string Number, string Car, string Customer);

/// <summary>The front desk's diary.</summary>
/// <param name="Days">Of days that are over, only jobs that are still open are counted and shown.</param>
/// <param name="Jobs">Open jobs, those promised first.</param>
/// <param name="IsCut">The shop has more open jobs or enquiries than are read.</param>
public sealed record DiaryView(
    DateOnly Today,
    DateOnly From,
    IReadOnlyList<DiaryLine> Late,
    IReadOnlyList<DiaryCall> Calls,
    IReadOnlyList<DiaryDay> Days,
    IReadOnlyList<DiaryEnquiry> Enquiries,
    IReadOnlyList<DiaryJobName> Jobs,
    bool IsCut
);
