using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Diary;

/// <summary>What a line of the diary is about.</summary>
public enum DiaryMatter
{
    /// <summary>The customer brings the car.</summary>
    DropOff,

    /// <summary>A part that the customer brings is due.</summary>
    Part,

    /// <summary>The car is promised for this day.</summary>
    Promised,

    /// <summary>The customer fetches the car.</summary>
    Collection,

    /// <summary>Something that the front desk wants to think of.</summary>
    Reminder,
}

/// <summary>How a matter stands.</summary>
public enum DiaryStanding
{
    Open,
    Confirmed,
    OtherAsked,
    Done,
}

/// <summary>Why somebody should be called.</summary>
public enum CallReason
{
    /// <summary>The job is open, the car is not here, and no day is agreed.</summary>
    NoDropOffAgreed,

    /// <summary>The customer asks for another time.</summary>
    OtherTimeAsked,

    /// <summary>The time is today or tomorrow and was not confirmed.</summary>
    NotConfirmed,

    /// <summary>The car is ready and nobody has agreed on when it is fetched.</summary>
    NoCollectionAgreed,

    /// <summary>The car is to be fetched before the day for which it is promised, and it is not ready.</summary>
    CollectionTooEarly,

    /// <summary>The car is gone and money is owed.</summary>
    BalanceOpen,

    /// <summary>The offer ends within <see cref="DiaryRules.ClosingDays"/> days.</summary>
    OfferEnds,

    /// <summary>The offer has ended without an answer, no more than <see cref="DiaryRules.EndedDays"/> days ago.</summary>
    OfferEnded,

    /// <summary>The offer has had no answer for <see cref="DiaryRules.SilentDays"/> days.</summary>
    OfferSilent,

    /// <summary>The offer was accepted and no job is opened.</summary>
    NotBookedIn,
}

/// <summary>A day and a time that a customer was given, with what they said to it.</summary>
public sealed record DiaryTime(AppointmentKind Kind, DateOnly Day, TimeOnly? Time, AppointmentAnswer? Answer);

/// <summary>A part of the customer's own that is awaited.</summary>
public sealed record DiaryPart(string What, DateOnly DueOn);

/// <summary>What the diary needs to know of an open job.</summary>
/// <param name="HasCar">The job is about a car in the shop.</param>
/// <param name="CameOn">Local day on which the car came.</param>
/// <param name="ReadyOn">Local day of the sign-off.</param>
public sealed record DiaryJob(
    JobId Job,
    bool HasCar,
    DateOnly? CameOn,
    DateOnly? PromisedOn,
    DateOnly? ReadyOn,
    IReadOnlyList<DiaryTime> Times,
    IReadOnlyList<DiaryPart> Parts
)
{
    public DiaryTime? TimeOf(AppointmentKind kind) => Times.FirstOrDefault(t => t.Kind == kind);

    /// <summary>From when to when its car takes up room, as far as it is known; null for a job without one.</summary>
    public ShopStay? Stay =>
        HasCar
            ? new ShopStay(
                Job,
                CameOn ?? TimeOf(AppointmentKind.DropOff)?.Day,
                TimeOf(AppointmentKind.Collection)?.Day ?? PromisedOn,
                CameOn is not null
            )
            : null;
}

/// <summary>One line of the diary: a matter on its day.</summary>
/// <param name="What">The part, or the reminder's words; null where the matter says it.</param>
public sealed record DiaryMark(
    DiaryMatter Matter,
    DateOnly Day,
    TimeOnly? Time,
    DiaryStanding Standing,
    string? What = null
);

/// <summary>Which matters a job has on which days, what is late, and who should be called: one rule each.</summary>
public static class DiaryRules
{
    /// <summary>Days before its last one from which an offer counts as ending. Common practice, no source.</summary>
    public const int ClosingDays = 3;

    /// <summary>Days for which an offer that has ended is still asked after. Common practice, no source.</summary>
    public const int EndedDays = 7;

    /// <summary>Days without an answer after which an offer is asked after. Common practice, no source.</summary>
    public const int SilentDays = 7;

    /// <summary>Every matter of the job that has a day.</summary>
    public static IEnumerable<DiaryMark> Marks(DiaryJob job)
    {
        ArgumentNullException.ThrowIfNull(job);
        if (job.TimeOf(AppointmentKind.DropOff) is { } comes)
        {
            yield return new DiaryMark(
                DiaryMatter.DropOff,
                comes.Day,
                comes.Time,
                job.CameOn is null ? Standing(comes) : DiaryStanding.Done
            );
        }

        foreach (var part in job.Parts)
        {
            yield return new DiaryMark(DiaryMatter.Part, part.DueOn, null, DiaryStanding.Open, part.What);
        }

        if (job.PromisedOn is { } promised)
        {
            yield return new DiaryMark(
                DiaryMatter.Promised,
                promised,
                null,
                job.ReadyOn is null ? DiaryStanding.Open : DiaryStanding.Done
            );
        }

        if (job.TimeOf(AppointmentKind.Collection) is { } fetched)
        {
            yield return new DiaryMark(DiaryMatter.Collection, fetched.Day, fetched.Time, Standing(fetched));
        }
    }

    /// <summary>Matters whose day is over and that are not done; the longest over first.</summary>
    public static IReadOnlyList<DiaryMark> Late(IEnumerable<DiaryMark> marks, DateOnly today) =>
        [.. marks.Where(m => m.Day < today && m.Standing != DiaryStanding.Done).OrderBy(m => m.Day)];

    /// <summary>Why the customer of an open job should be called.</summary>
    public static IEnumerable<CallReason> Calls(DiaryJob job, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(job);
        var dropOff = job.TimeOf(AppointmentKind.DropOff);
        var collection = job.TimeOf(AppointmentKind.Collection);
        if (job is { HasCar: true, CameOn: null } && dropOff is null)
        {
            yield return CallReason.NoDropOffAgreed;
        }

        if (job is { HasCar: true, CameOn: not null, ReadyOn: not null } && collection is null)
        {
            yield return CallReason.NoCollectionAgreed;
        }

        if (job.ReadyOn is null && collection is not null && collection.Day < job.PromisedOn)
        {
            yield return CallReason.CollectionTooEarly;
        }

        var waiting = new[] { job.CameOn is null ? dropOff : null, collection }.OfType<DiaryTime>().ToList();
        if (waiting.Exists(t => t.Answer == AppointmentAnswer.OtherAsked))
        {
            yield return CallReason.OtherTimeAsked;
        }

        if (waiting.Exists(t => t.Answer is null && t.Day >= today && t.Day <= today.AddDays(1)))
        {
            yield return CallReason.NotConfirmed;
        }
    }

    /// <summary>Why somebody who asked for an offer should be called; null where nothing presses.</summary>
    /// <param name="isAccepted">Accepted, without a job.</param>
    /// <param name="sentOn">Null for a draft.</param>
    public static CallReason? Call(bool isAccepted, DateOnly? sentOn, DateOnly? validUntil, DateOnly today) =>
        isAccepted ? CallReason.NotBookedIn
        : sentOn is not { } sent ? null
        : validUntil < today ? (validUntil >= today.AddDays(-EndedDays) ? CallReason.OfferEnded : null)
        : validUntil <= today.AddDays(ClosingDays) ? CallReason.OfferEnds
        : sent <= today.AddDays(-SilentDays) ? CallReason.OfferSilent
        : null;

    private static DiaryStanding Standing(DiaryTime time) =>
        time.Answer switch
        {
            AppointmentAnswer.Confirmed => DiaryStanding.Confirmed,
            AppointmentAnswer.OtherAsked => DiaryStanding.OtherAsked,
            _ => DiaryStanding.Open,
        };
}
